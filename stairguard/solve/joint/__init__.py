"""Where two rails meet, and the post that stands there."""
