"""The written electrical load analysis: a document of its own, as HTML, PDF and workbook."""
