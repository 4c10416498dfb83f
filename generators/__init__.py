"""What we write by machine: entries become charts, tables, pages and data for the browser."""
