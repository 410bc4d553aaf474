"""Whether what is written on a sheet can be read: no word over another, none off the paper; overlaps by shapely."""

import shapely


def boxes(sheet):
    """Every text that has words, with the box it fills."""
    return [(text, shapely.Polygon(text.corners())) for text in sheet.texts() if text.words]


def overlapping(sheet):
    """Words of every two texts whose boxes overlap."""
    texts, shapes = zip(*boxes(sheet), strict=True)
    tree = shapely.STRtree(shapes)
    return [
        (texts[i].words, texts[k].words)
        for i, shape in enumerate(shapes)
        for k in tree.query(shape)
        if k > i and shape.intersection(shapes[k]).area >= 1e-6
    ]


def outside(sheet, margin):
    """Words of texts that are not wholly within a frame so far from the edges of the sheet."""
    frame = shapely.box(margin, margin, sheet.width - margin, sheet.height - margin)
    return [text.words for text, shape in boxes(sheet) if not frame.contains(shape)]
