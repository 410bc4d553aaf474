"""What the page's lists say of their figures: pieces to cut and stock to buy, measured flights."""
