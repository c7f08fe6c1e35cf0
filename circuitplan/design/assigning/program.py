"""The assignment as an integer program.

Columns: x[option], one a way of an item; m[switch], whether a direct switch works relays instead
of carrying; y[switch, panel], whether a carrying switch is fed from that panel; k[switch, panel],
whether its control circuit has its way there; used[switch]. Every demand d has a column z[d]
where demands may be given up.

Limits:  sum of x of an item = 1;  sum of rating taken x <= rating of a carrying switch;  sum of
coil current <= rating of a switch that works relays;  ways and amperes of panels;  never together:
x_i + x_j <= 1 on each switch;  a shared switch: x_i = x_j.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from circuitplan.design.assigning.demands import all_demands
from circuitplan.design.assigning.options import Option, options
from circuitplan.design.assigning.row_order import PLAIN, SHARED, distances
from circuitplan.design.assigning.task import Choice, Contact, Item, Task
from circuitplan.design.rows import Rows

GOALS = ("cautions", "relays added", "copper", "order in the row")


class Program:
    """Rows and columns of a task. ``elastic``: with columns by which demands may be given up."""

    def __init__(self, task: Task, elastic: bool = False) -> None:
        self.task, self.rows = task, Rows()
        self.least_relays = 0  # a lower bound
        self.demands = all_demands(task)
        self.given_up = {key: self.rows.column() for key in (self.demands if elastic else ())}
        self.options: list[Option] = []
        self.x: list[int] = []
        for option in options(task):
            if elastic or not (option.breaks or self._too_large(option)):
                self.options.append(option)
                self.x.append(self.rows.column())
        self._by_item: dict[int, list[int]] = defaultdict(list)
        self._by_switch: dict[int, list[int]] = defaultdict(list)
        for o, option in enumerate(self.options):
            self._by_item[option.item].append(o)
            if option.switch is not None:
                self._by_switch[option.switch].append(o)
        self._choose()
        self._switches()
        self._panels()
        self._pairs()
        if not elastic:
            self._least_relays()

    # --- limits --------------------------------------------------------------------------------

    def _limit(self, terms: dict[int, int], high: int, key: str) -> None:
        """``terms`` at most ``high`` unless the demand ``key`` is given up."""
        column = self.given_up.get(key)
        if column is not None:
            over = sum(v for v in terms.values() if v > 0) - high
            if over <= 0:
                return
            terms = {**terms, column: -over}
        self.rows.add(terms, high=high)

    def _choose(self) -> None:
        for i in range(len(self.task.items)):
            self.rows.add({self.x[o]: 1 for o in self._by_item[i]}, 1, 1)
        for o, option in enumerate(self.options if self.given_up else ()):
            for key in option.breaks:
                self.rows.add({self.x[o]: 1, self.given_up[key]: -1}, high=0)

    def _switches(self) -> None:
        for s, switch in enumerate(self.task.switches):
            mine = self._by_switch[s]
            carried = [o for o in mine if self.options[o].mode != "coil"]
            coils = [o for o in mine if self.options[o].mode == "coil"]
            if carried and coils:
                works = self.rows.column()
                for o in carried:
                    self.rows.add({self.x[o]: 1, works: 1}, high=1)
                for o in coils:
                    self.rows.add({self.x[o]: 1, works: -1}, high=0)
            if switch.rating_ma is None:
                continue
            sides = (
                {self.x[o]: self._item(o).carried_ma[switch.name] for o in carried},
                {self.x[o]: self._item(o).coil_ma or 1 for o in coils},
            )
            if switch.fuse_ma is not None:
                load = {self.x[o]: self._item(o).current_ma for o in carried}
                self._limit(load, switch.fuse_ma, f"rating:{switch.name}")
            room = max(0, switch.rating_ma - switch.already_ma)
            for terms in sides:
                if terms:  # a switch that takes nothing more is left as the plan has it
                    self._limit(terms, room, f"rating:{switch.name}")
            if self.task.spare_ma and carried:
                left = max(0, room - self.task.spare_ma)
                self._limit(sides[0], left, f"spare:{switch.name}")

    def _too_large(self, option: Option) -> bool:
        """Whether an item alone exceeds its switch: no solution has it so."""
        if option.switch is None:
            return False
        switch, item = self.task.switches[option.switch], self.task.items[option.item]
        if option.mode == "coil":
            return item.coil_ma is None or item.coil_ma > self._free_ma(switch, coils=True)
        if switch.fuse_ma is not None and item.current_ma > switch.fuse_ma:
            return True
        return item.carried_ma[switch.name] > self._free_ma(switch)

    def _free_ma(self, switch: Contact, coils: bool = False) -> int:
        kept = 0 if coils else self.task.spare_ma
        return max(0, max(0, (switch.rating_ma or 0) - switch.already_ma) - kept)

    def _least_relays(self) -> None:
        """Rows that all solutions meet and that lift the bound of the relays: of the items that
        only certain switches can carry, at least so many need a relay that the others fit."""
        carriers: dict[int, dict[int, int]] = {}
        for i, item in enumerate(self.task.items):
            mine = [self.options[o] for o in self._by_item[i]]
            if item.adds_relay and all(p.mode != "plain" for p in mine):
                carriers[i] = {
                    p.switch: item.carried_ma[self.task.switches[p.switch].name]
                    for p in mine if p.switch is not None and p.mode != "coil"
                }
        for allowed in dict.fromkeys(frozenset(ways) for ways in carriers.values()):
            room = sum(self._free_ma(self.task.switches[s]) for s in allowed)
            inside = [i for i, ways in carriers.items() if ways.keys() <= allowed]
            loads = sorted(min(carriers[i].values(), default=0) for i in inside if carriers[i])
            least = sum(not carriers[i] for i in inside)
            while loads and sum(loads) > room:
                loads.pop()
                least += 1
            if least:
                relays = {
                    self.x[o]: 1
                    for i in inside for o in self._by_item[i] if self.options[o].mode == "coil"
                }
                self.rows.add(relays, low=least)
                self.least_relays = max(self.least_relays, least)

    def _item(self, o: int) -> Item:
        return self.task.items[self.options[o].item]

    def _panels(self) -> None:
        ways: dict[str, dict[int, int]] = defaultdict(dict)
        amps: dict[str, dict[int, int]] = defaultdict(lambda: defaultdict(int))
        fed: dict[tuple[int, str], int] = {}
        carried: dict[tuple[int, str], dict[int, int]] = defaultdict(dict)
        control: dict[tuple[int, str], int] = {}
        for o, option in enumerate(self.options):
            panel, item = self.task.panel(option.panel), self._item(o)
            if option.mode == "output":
                continue
            if option.mode == "carry":
                assert option.switch is not None
                y = fed.setdefault((option.switch, option.panel), -1)
                if y < 0:
                    y = fed[option.switch, option.panel] = self.rows.column()
                    if panel is not None:
                        ways[panel.name][y] = 1
                self.rows.add({self.x[o]: 1, y: -1}, high=0)
                switch = self.task.switches[option.switch]
                carried[option.switch, option.panel][self.x[o]] = item.carried_ma[switch.name]
            elif panel is not None:
                ways[panel.name][self.x[o]] = 1
            if option.mode == "coil":
                self._control(o, option, control, ways)
            if panel is not None:
                for name in (panel.name, *panel.above):
                    amps[name][self.x[o]] += item.thermal_ma
        for s in range(len(self.task.switches)):
            feeds = {y: 1 for (at, _), y in fed.items() if at == s}
            if len(feeds) > 1:  # a contact fed from two panels joins two fuses
                self.rows.add(feeds, high=1)
        for at, terms in carried.items():
            switch = self.task.switches[at[0]]
            if switch.rating_ma is not None and not self.given_up:
                # Follows from the rows above, but bounds fractions of x and y much better.
                self.rows.add({**terms, fed[at]: -self._free_ma(switch)}, high=0)
        for panel in self.task.panels:
            most = len(self.task.items) + 2 * len(self.task.switches)
            if panel.ways is not None and panel.ways - self.task.spare_ways < most:
                self._limit(ways[panel.name], panel.ways, f"ways:{panel.name}")
                if self.task.spare_ways:
                    left = panel.ways - self.task.spare_ways
                    self._limit(ways[panel.name], left, f"spare ways:{panel.name}")
            if panel.room_ma is not None:
                self._limit(dict(amps[panel.name]), panel.room_ma, f"room:{panel.name}")

    def _control(
        self, o: int, option: Option, control: dict[tuple[int, str], int],
        ways: dict[str, dict[int, int]],
    ) -> None:
        """The way of a control circuit: where the switch is fed, else beside what it works."""
        assert option.switch is not None
        switch = self.task.switches[option.switch]
        if switch.control_panel:
            return  # counted already with the settled circuits
        where = switch.panel or option.panel
        if self.task.panel(where) is None:
            return
        column = control.get((option.switch, where))
        if column is None:
            column = control[option.switch, where] = self.rows.column()
            ways[where][column] = 1
        self.rows.add({self.x[o]: 1, column: -1}, high=0)

    # --- pairs ---------------------------------------------------------------------------------

    def _on(self, item: int, switch: int | None) -> dict[int, int]:
        return {
            self.x[o]: 1 for o in self._by_item[item] if self.options[o].switch == switch
        }

    def _pairs(self) -> None:
        at = {item.name: i for i, item in enumerate(self.task.items)}
        everywhere: list[int | None] = [*range(len(self.task.switches))]
        for sort, pairs in (("apart", self.task.apart), ("unlike", self.task.unlike)):
            for a, b in pairs:
                for s in everywhere:
                    self._limit(self._on(at[a], s) | self._on(at[b], s), 1, f"{sort}:{a}:{b}")
        for a, b in self.task.together:
            for s in [*everywhere, None]:
                ons = self._on(at[a], s), self._on(at[b], s)
                for one, other in (ons, ons[::-1]):
                    self._limit(one | dict.fromkeys(other, -1), 0, f"together:{a}:{b}")
        for a, b in self.task.follows:
            plain = dict.fromkeys(self._on(at[b], None), -1)
            for s in [*everywhere, None]:
                other = dict.fromkeys(self._on(at[b], s), -1)
                self._limit(self._on(at[a], s) | plain | other, 0, f"follows:{a}:{b}")

    # --- goals ---------------------------------------------------------------------------------

    def goals(self) -> list[dict[int, int]]:
        """What is made least, in order: GOALS. Adds a column a switch: whether it is in use."""
        plain = [
            {self.x[o]: int(getattr(p, name)) for o, p in enumerate(self.options)}
            for name in ("caution", "relays", "copper_g")
        ]
        return [*plain, self._order()]

    def above_least(self, goal: dict[int, int]) -> tuple[dict[int, int], int]:
        """The goal counted from the least that each item can have, and the sum of these: a bound
        of it then rules out ways one by one."""
        above, whole = dict(goal), 0
        for ways in self._by_item.values():
            least = min((goal.get(self.x[o], 0) for o in ways), default=0)
            whole += least
            above |= {self.x[o]: goal.get(self.x[o], 0) - least for o in ways}
        return {c: v for c, v in above.items() if v}, whole

    def _order(self) -> dict[int, int]:
        """How many places each item is from its home in the row, and SHARED for each item that is
        not the first on its switch."""
        switched = {p.item for p in self.options if p.switch is not None}
        far = distances(self.task, switched)
        goal: dict[int, int] = {}
        for o, option in enumerate(self.options):
            if option.switch is not None:
                goal[self.x[o]] = far[option.item, option.switch] + PLAIN + SHARED
        for s, mine in self._by_switch.items():
            if self.task.switches[s].taken:
                continue  # every item here shares
            used = self.rows.column()
            goal[used] = -SHARED
            self.rows.add({used: 1} | {self.x[o]: -1 for o in mine}, high=0)
        return goal

    # --- answers -------------------------------------------------------------------------------

    def choices(self, values: Iterable[int]) -> tuple[Choice, ...]:
        """What each item gets, in the order of the items."""
        values = tuple(values)
        chosen = sorted(
            (p for o, p in enumerate(self.options) if values[self.x[o]]), key=lambda p: p.item
        )
        return tuple(
            Choice(
                self.task.items[p.item].name,
                "" if p.switch is None else self.task.switches[p.switch].name, p.mode, p.panel,
            )
            for p in chosen
        )

    def same_switches(self, values: tuple[int, ...]) -> dict[int, int]:
        """Columns of all ways of the items still to be decided with the switches of a solution."""
        chosen = {p.item: p.switch for o, p in enumerate(self.options) if values[self.x[o]]}
        open_items = {
            i for i, item in enumerate(self.task.items)
            if not item.fixed_switch and not item.may_be_plain
        }
        return {
            self.x[o]: 1 for o, p in enumerate(self.options)
            if p.item in open_items and chosen[p.item] == p.switch
        }
