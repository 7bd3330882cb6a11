"""Figures from data: SVG that takes its colours from the page."""
