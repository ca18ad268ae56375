"""Screens and files made from answers: words, tables, trees, JSON; nothing is computed here."""
