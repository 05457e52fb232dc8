# %% A tour, cell by cell
"""A tour in cells (``# %%``): a notebook for editors that know them, a script for all others.

In a notebook a grip or a table as the last value of a cell is drawn.
"""

# %% A chord is read, spelled and explained
from gripwright import Chord, Hand, Interval, Pitch, diagram, find_voicings, load_registry, ranking

chord = Chord.parse("Dm9")
print(chord, [str(note) for note in chord.notes], chord.essential)

# %% Intervals add; pitches move by them
print(Pitch.parse("D3") + Interval.parse("m3") + Interval.parse("M3"))

# %% Every playable voicing on an instrument, as columns
registry = load_registry()
guitar = registry.instruments["guitar"]
table = find_voicings(chord, guitar, Hand(reach_mm=100.0))
print(len(table), table.frets.shape, sorted(table.columns)[:4])

# %% Chosen as a player would: the ninth on top, the easiest first
best = table.where(top_degree="9").order_by(ranking.ease)[:4]
for grip in best:
    print(grip.shape, grip.degrees, f"{grip.reach_mm:.0f} mm")

# %% One grip, drawn: in a notebook the value of the cell is its picture
grip = best[0]
picture = diagram.neck_svg(grip)
print(picture[:4], len(picture) > 1000)

# %% The same chord as a strategy stacks it
drop = registry.strategies["drop-2"]
print([" ".join(recipe.degrees) for recipe in drop.recipes(Chord.parse("Dm7"))])
