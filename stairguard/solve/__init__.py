"""Where everything goes: rail, posts, strands, joints, openings, runs and cuts; `layout` puts them in order."""
