"""The limb: its surface (geometry), the five views of it and the way back (views), and the drawing (draw).

Everything here is pure and reads one table, data/limb.json. web/src/limb/ says the same in TypeScript;
tests/vectors/limb.json holds both to the same numbers.
"""
