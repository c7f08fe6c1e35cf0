"""The supply: alternators, batteries, scenarios, days, shedding and cures."""
