"""Drawings as files."""
