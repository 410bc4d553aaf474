"""Results as plain data: JSON and rows for a spreadsheet."""
