"""Stands here so that tests find ``support`` beside it."""
