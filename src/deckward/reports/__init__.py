"""Figures, pages, cards and text: the only plotting and PDF."""
