"""What came of each rule, on a guard as designed and as measured."""
