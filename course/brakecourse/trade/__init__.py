"""The trade's calculations: numbers in, numbers or a small frozen record out.

One module a subject. Nothing here knows of notebooks, widgets or files. Readings are plain
sequences of numbers; a numpy array works too. A wrong argument raises ``ValueError`` with one
sentence: the quantity, what was expected, what was found.
"""
