"""A planted page: grounds, matter and faults from one seed, drawn as SVG with its truth."""
import random

import drawing
import fold_planting
import layout
from job import Box, choose, random_job
from pictures import Pictures
from planting import Bed
from truth import Truth

CLEAN_SHARE = 0.55
# Renderers of PDF round a page up to whole pixels, from below: a hair too large is a pixel too many.
SHY_PX = 0.01
MOST_FAULTS = 4
FAULTS = {"band": 7, "corner": 0.8, "bleed": 4, "rule": 0.7, "frame": 0.7, "trim guide": 0.5}
FOLD_FAULTS = {"across": 8, "near": 2, "break": 2, "fold guide": 1}


def wanted_faults(rng, job):
    """What to plant; empty for a clean page."""
    if rng.random() < CLEAN_SHARE:
        return []
    weights = dict(FAULTS, **(FOLD_FAULTS if job.folds else {}))
    chosen = [choose(rng, weights) for _ in range(rng.choices(range(1, MOST_FAULTS + 1), (5, 3, 2, 1))[0])]
    # One of each kind that would get in its own way: two texts at a fold may be read as one block.
    if "across" in chosen:
        chosen = [kind for kind in chosen if kind != "near"]
    return [kind for i, kind in enumerate(chosen) if kind == "band" or kind not in chosen[:i]]


def plant_faults(bed, wanted, edges):
    if "frame" in wanted and wanted == ["frame"]:
        bed.plant_frame()
    if "fold guide" in wanted:
        fold_planting.plant_fold_guide(bed)
    if "trim guide" in wanted and edges:
        fold_planting.plant_trim_guide(bed, edges.pop())
    if "rule" in wanted and edges:
        bed.plant_rule(edges.pop())
    if "corner" in wanted and len(edges) > 1:
        meeting = layout.take_meeting(edges)
        if meeting:
            bed.plant_in_corner(meeting)
    for _ in range(wanted.count("band")):
        if edges:
            bed.plant_in_band(edges.pop())
    if "across" in wanted:
        fold_planting.plant_across(bed)
    if "near" in wanted:
        fold_planting.plant_near(bed)


def make(seed, index, folder, procedural_only=False):
    """Draws page `index` of a seed into `folder`: returns its SVG content and its truth."""
    rng = random.Random(f"{seed}/{index}")
    job = random_job(rng)
    pictures = Pictures(rng, folder, procedural_only)
    wanted, edges = wanted_faults(rng, job), layout.free_edges(rng)
    bleed_edges = [edges.pop()] if "bleed" in wanted else []
    grounds = layout.make_layout(rng, job, pictures, bleed_edges, "break" in wanted, folder)
    bed = Bed(rng, job, grounds, pictures, folder)
    plant_faults(bed, wanted, edges)
    if not wanted and rng.random() < 0.1:
        bed.lay_frame()
    if "bleed" not in wanted and rng.random() < 0.12:
        bed.lay_shape_off_the_page()
    if rng.random() < 0.35:
        bed.lay_gutter()
    bed.fill(rng.randint(3, 7))
    truth = Truth(
        seed, index, job, grounds.faults + bed.faults, bed.matter, [kind for _, kind in grounds.zones]
    )
    return "".join(grounds.paint + bed.paint), truth


def view_at(job, dpi):
    """The canvas in whole pixels, drawn from its top left corner as renderers do; its view in mm."""
    per_mm = dpi / 25.4
    size = round(job.canvas.width * per_mm), round(job.canvas.height * per_mm)
    return size, Box(
        job.canvas.left,
        job.canvas.top,
        job.canvas.left + (size[0] - SHY_PX) / per_mm,
        job.canvas.top + (size[1] - SHY_PX) / per_mm,
    )


def document(content, job, dpi, sharp_edges):
    size, view = view_at(job, dpi)
    return size, drawing.document(content, view, sharp_edges)
