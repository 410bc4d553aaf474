"""What would mend a breach: looked for, carried out, judged again."""
