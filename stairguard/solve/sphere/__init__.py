"""The largest sphere of one opening, exact to its verdict."""
