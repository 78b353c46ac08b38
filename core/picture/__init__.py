"""Pixels in: read a picture, find its few colours and its ground."""
