"""From an answer to what a person or a program reads: terminal, Markdown, JSON.

Knows no rules and no physics. Every number is shown in both unit systems, the user's own first.
"""
