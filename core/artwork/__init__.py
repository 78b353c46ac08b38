"""Artwork that is already lines: SVG and DXF to the Outline, without pixels in between."""
