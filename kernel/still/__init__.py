"""How is a still picture drawn: what is seen, with which strokes and figures, on which paper?"""
