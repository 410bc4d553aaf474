"""What every sheet is drawn with: primitives, letters, room for words, frames."""
