"""Job lists: rows of a CSV or XLSX file become fittings, each checked."""
