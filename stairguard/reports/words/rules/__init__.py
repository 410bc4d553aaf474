"""Words on rules: what findings, verdicts, reasons and packs are called."""
