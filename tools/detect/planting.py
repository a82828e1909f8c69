"""Lays live matter on a page: wrong where a fault is wanted, else right, much of it barely so."""
import colours
import drawing
import matter as live
from job import CUT_TOLERANCE, ONE_POINT, Box
from truth import Fault

TRIES = 30
BARELY = (0.15, 1.0)  # mm: how far past a limit the matter of a clean page begins
LEAST_DISTANCE = 0.4  # mm of an intruding element from the trim, unless it is cut
SEAM_SHARE = 0.2  # of the places on two grounds at once that are taken
FOLD_CLEARANCE = 0.2  # mm more than the fold's clear distance


class Bed:
    """A page on which matter is laid, piece by piece, clear of what is there."""

    def __init__(self, rng, job, layout, pictures, folder):
        self.rng, self.job, self.layout, self.pictures, self.folder = rng, job, layout, pictures, folder
        self.paint, self.occupied, self.faults, self.matter = [], [], [], []

    # --- what may lie where ---

    def gap(self, piece):
        """Wide enough that no one would read two pieces as one line or one drawing."""
        tallest = max(min(part.box.width, part.box.height) for part in piece.inks)
        return min(max(2.5, 0.9 * tallest), 14.0)

    def is_free(self, box, gap, fold_gap, crossed=None):
        """`crossed`: the number of the fold that the box is meant to cross or come near."""
        if any(box.grown(max(gap, other_gap)).meets(other) for other, other_gap in self.occupied):
            return False
        return all(
            number == crossed or self.clear_of(box, vertical, at, fold_gap)
            for number, vertical, at in self.job.all_folds()
        )

    @staticmethod
    def clear_of(box, vertical, at, gap):
        low, high = (box.left, box.right) if vertical else (box.top, box.bottom)
        return high <= at - gap or low >= at + gap

    def ink_for(self, piece, box):
        """Ink and second colour for a piece, and the ground under it; None where nothing can be read."""
        ground = self.layout.ground_at(box.grown(0.8).clipped(self.job.canvas))
        if ground is None and piece.kind != "picture" and self.rng.random() < SEAM_SHARE:
            ground = "seam"
        if ground is None:
            return None
        under = self.layout.pixels(box.grown(0.8).clipped(self.job.canvas))
        opacity = piece.opacity if piece.effect == "translucent" else 1.0
        if piece.effect == "shadow":  # a dark shadow round dark type on a dark ground hides the type
            ink = colours.readable_ink(
                self.rng, under, opacity, lambda c: colours.contrast(c, under * 0.6) >= 0.2
            )
        elif piece.kind == "picture":
            ink = "#808080" if self.picture_stands_out(piece, under) else None
        else:
            ink = colours.readable_ink(self.rng, under, opacity)
        if ink is None:
            return None
        mean = colours.name(under.reshape(-1, 3).mean(axis=0))
        second = (
            mean
            if abs(colours.luma(mean) - colours.luma(ink)) >= 0.3
            else colours.apart(self.rng, (ink,), 0.4)
        )
        if piece.name.startswith("square code"):
            ink, second = self.code_colours(piece.name == "square code", ink, under)
        return (ink, second, ground) if ink is not None else None

    @staticmethod
    def code_colours(bare, ink, under):
        """Bare codes are dark on light ground, boxes white on dark ground; None where neither can be read."""
        if bare:
            return (ink, ink) if colours.luma(ink) < 0.4 else (None, None)
        stands_out = colours.contrast("#ffffff", under) >= colours.LEAST_CONTRAST
        return ("#000000", "#ffffff") if stands_out else (None, None)

    @staticmethod
    def picture_stands_out(piece, under):
        """Bare pictures are laid only on light and dark grounds, as their own edges are mid tones; in a white
        keyline on any that sets it off."""
        if piece.name == "picture in a keyline":
            return colours.contrast("#ffffff", under) >= colours.LEAST_CONTRAST
        lumas = under.reshape(-1, 3) @ colours.LUMA / 255
        return lumas.min() > 0.9 or lumas.max() < 0.12

    # --- laying ---

    def lay(self, piece, dx, dy, inks):
        ink, second, ground = inks
        serial = f"{len(self.paint)}m"
        self.paint.append(drawing.moved(piece.draw(ink, second, serial), dx, dy))
        box = piece.box.moved(dx, dy)
        self.occupied.append((box, self.gap(piece)))
        self.matter.append((box, piece.kind, piece.name, ground))
        return box

    def try_at(self, piece, left, top, crossed=None, fold_gap=None):
        """Where the piece can be laid with its ink at (left, top): its shift and inks, else None."""
        if fold_gap is None:
            fold_gap = 0.5 if piece.kind == "picture" else self.job.fold_safe + FOLD_CLEARANCE
        dx, dy = left - piece.box.left, top - piece.box.top
        box = piece.box.moved(dx, dy)
        if not self.is_free(box, self.gap(piece), fold_gap, crossed):
            return None
        inks = self.ink_for(piece, box)
        return (dx, dy, inks) if inks else None

    def along(self, edge, box):
        """A random place along an edge, inside the safe zone by a little."""
        safe, rng = self.job.safe_zone, self.rng
        low, high = (
            (safe.left, safe.right - box.width)
            if edge in ("top", "bottom")
            else (safe.top, safe.bottom - box.height)
        )
        low, high = low + BARELY[0], high - BARELY[0]
        return rng.uniform(low, high) if high >= low else None

    def place_at(self, edge, distance, box, along):
        """Left and top of a box at so much from an edge."""
        job = self.job
        return {
            "top": (along, distance),
            "left": (distance, along),
            "bottom": (along, job.height - distance - box.height),
            "right": (job.width - distance - box.width, along),
        }[edge]

    def lay_by_edge(self, piece, edge, distance):
        """Lays a piece at a distance from an edge; returns its box and ground, or None."""
        for _ in range(TRIES):
            along = self.along(edge, piece.box)
            if along is None or not self.reaches_no_other(piece, edge, distance):
                return None
            found = self.try_at(piece, *self.place_at(edge, distance, piece.box, along))
            if found:
                return self.lay(piece, *found), found[2][2], found[:2]
        return None

    def reaches_no_other(self, piece, edge, distance):
        """Deep pieces must not come into the band of the opposite edge."""
        depth = piece.box.height if edge in ("top", "bottom") else piece.box.width
        opposite = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}[edge]
        length = self.job.height if edge in ("top", "bottom") else self.job.width
        return distance + depth + self.job.safe[opposite] + BARELY[0] <= length

    # --- right ---

    def fill(self, count):
        """Lays pieces that are right: many barely outside the limits."""
        for _ in range(count):
            piece = live.some_matter(self.rng, self.job, self.pictures, self.folder)
            if self.rng.random() < 0.6:
                edge = self.rng.choice(("top", "right", "bottom", "left"))
                self.lay_by_edge(piece, edge, self.job.safe[edge] + self.rng.uniform(*BARELY))
            else:
                self.lay_anywhere(piece)

    def lay_anywhere(self, piece):
        safe, box = self.job.safe_zone.grown(-BARELY[0]), piece.box
        if box.width > safe.width or box.height > safe.height:
            return
        for _ in range(TRIES):
            found = self.try_at(
                piece,
                self.rng.uniform(safe.left, safe.right - box.width),
                self.rng.uniform(safe.top, safe.bottom - box.height),
            )
            if found:
                self.lay(piece, *found)
                return

    def lay_gutter(self):
        """Two columns with a fold in the gutter between them, closer than single lines may come."""
        if not self.job.folds:
            return
        fold = self.rng.choice(self.job.folds)
        size, gap = self.rng.uniform(2.2, 3.2), self.rng.uniform(1.2, 2.5)
        columns = [
            live.measured(live.some_text(self.rng, 24, size, turned_too=False, lines=4), self.folder)
            for _ in range(2)
        ]
        top = self.rng.uniform(
            self.job.safe["top"] + 1, max(self.job.safe["top"] + 1.1, self.job.height * 0.5)
        )
        lefts = (fold - gap - columns[0].box.width, fold + gap)
        places = [
            self.try_at(column, left, top, fold_gap=gap - 0.01) for column, left in zip(columns, lefts)
        ]
        inside = [
            column.box.moved(p[0], p[1]).inside(self.job.safe_zone)
            for column, p in zip(columns, places)
            if p
        ]
        if all(places) and all(inside):
            for column, place in zip(columns, places):
                self.lay(column, *place)

    def lay_shape_off_the_page(self):
        """A disc or a wedge that runs off the page with its full bleed, as decoration does: right."""
        rng, job = self.rng, self.job
        x, y = rng.choice((0, job.width)), rng.choice((0, job.height, rng.uniform(0.3, 0.7) * job.height))
        reach = rng.uniform(0.15, 0.3) * min(job.width, job.height) + max(
            *job.safe.values(), *job.bleed.values()
        )
        box = Box(x - reach, y - reach, x + reach, y + reach)
        seen, safe = box.clipped(job.canvas), job.safe_zone.grown(-BARELY[0])
        # It may come into the bands only of the edges that it runs off.
        in_bands = (
            box.right > safe.right and x == 0,
            box.left < safe.left and x > 0,
            box.bottom > safe.bottom and y < job.height,
            box.top < safe.top and y > 0,
        )
        if any(in_bands) or not self.is_free(seen, 1.0, 1.0) or self.layout.ground_at(seen) is None:
            return
        ink = colours.readable_ink(rng, self.layout.pixels(seen))
        if ink is None:
            return
        wedge = ((x - reach, y), (x, y - reach), (x + reach, y), (x, y + reach))
        self.paint.append(
            drawing.tag("circle", cx=float(x), cy=float(y), r=float(reach), fill=ink)
            if rng.random() < 0.6
            else drawing.polygon(wedge, fill=ink)
        )
        self.occupied.append((seen, 2.5))

    # --- wrong ---

    def plant_in_band(self, edge):
        rng, safe = self.rng, self.job.safe[edge]
        kind = rng.choices(("band", "little", "cut"), weights=(70, 14, 16))[0]
        piece = live.some_matter(rng, self.job, self.pictures, self.folder)
        least = CUT_TOLERANCE + 0.4 if piece.straight else LEAST_DISTANCE
        if kind == "little":
            distance = safe - rng.uniform(0.12, ONE_POINT - 0.06)
        elif kind == "cut" and not piece.straight:
            distance = rng.uniform(-min(1.5, self.job.bleed[edge] - 0.6), -0.15)
            depth = piece.box.height if edge in ("top", "bottom") else piece.box.width
            distance = max(distance, -0.7 * depth)
        else:
            distance = rng.uniform(least, max(least, safe - ONE_POINT - 0.07))
        if distance > safe - 0.1:
            return
        laid = self.lay_by_edge(piece, edge, distance)
        if laid:
            box, ground, shift = laid
            self.faults.append(
                Fault(
                    "safe-zone",
                    "cut" if distance < 0 else "in band",
                    ("fix" if safe - distance > ONE_POINT else "review",),
                    self.intruding(piece, shift, edge),
                    measured=distance,
                    edges=(edge,),
                    ground=ground,
                    matter=piece.name,
                    effect=piece.effect,
                    size=safe - distance,
                    is_type=piece.kind == "text",
                )
            )

    def plant_in_corner(self, edges):
        """Something small in the bands of two edges that meet; either edge is the right one to name."""
        rng, job = self.rng, self.job
        upright = next(edge for edge in edges if edge in ("top", "bottom"))
        sideways = next(edge for edge in edges if edge in ("left", "right"))
        for _ in range(TRIES):
            piece = live.some_matter(rng, job, self.pictures, self.folder, room=12.0, largest=12.0)
            least = CUT_TOLERANCE + 0.4 if piece.straight else LEAST_DISTANCE
            away = {edge: rng.uniform(least, job.safe[edge] - 0.4) for edge in edges if job.safe[edge] > least + 0.5}
            if len(away) < 2 or not all(self.reaches_no_other(piece, edge, away[edge]) for edge in edges):
                continue
            across = away[sideways] if sideways == "left" else job.width - away["right"] - piece.box.width
            found = self.try_at(piece, *self.place_at(upright, away[upright], piece.box, across))
            if not found:
                continue
            self.lay(piece, *found)
            self.faults.append(
                Fault(
                    "safe-zone",
                    "in the corner",
                    ("fix",),
                    [part for edge in edges for part in self.intruding(piece, found[:2], edge)],
                    measured=away,
                    edges=tuple(edges),
                    ground=found[2][2],
                    matter=piece.name,
                    effect=piece.effect,
                    size=max(job.safe[edge] - distance for edge, distance in away.items()),
                    is_type=piece.kind == "text",
                )
            )
            return

    def intruding(self, piece, shift, edge):
        """Boxes that are right for a block: all of it, or the lines of it that intrude."""
        boxes = [part.box.moved(*shift) for part in piece.inks]
        wrong = [box for box in boxes if self.job.distance(box, edge) < self.job.safe[edge]]
        return united_boxes(boxes, wrong)

    def plant_rule(self, edge):
        """A rule along an edge, in the band."""
        rng, job = self.rng, self.job
        thick, distance = rng.uniform(0.25, 1.0), rng.uniform(CUT_TOLERANCE + 0.4, job.safe[edge] - 0.3)
        length = rng.uniform(0.55, 0.9) * (job.length_of(edge) - 2 * max(job.safe.values()))
        if distance > job.safe[edge] - 0.2 or length < 0.42 * job.length_of(edge):
            return
        box = Box(0, 0, length, thick) if edge in ("top", "bottom") else Box(0, 0, thick, length)
        piece = live.measured(
            live.Matter("rule", "rule", [lambda ink, second: drawing.rect(box, fill=ink)]), self.folder
        )
        for _ in range(TRIES):
            found = self.try_at(
                piece, *self.place_at(edge, distance, box, self.along(edge, box)), fold_gap=-1e3
            )
            if found:
                whole = self.lay(piece, *found)
                self.faults.append(
                    Fault(
                        "safe-zone",
                        "rule along the trim",
                        ("review",),
                        [whole],
                        measured=distance,
                        edges=(edge,),
                        ground=found[2][2],
                        matter="rule",
                        size=job.safe[edge] - distance,
                    )
                )
                return

    def plant_frame(self):
        """A frame all round, in the band; any edge is the right one to name."""
        rng, job = self.rng, self.job
        inset, thick = rng.uniform(CUT_TOLERANCE + 0.4, min(job.safe.values()) - 0.3), rng.uniform(
            0.25, 1.0
        )
        self.frame(
            inset,
            thick,
            Fault(
                "safe-zone",
                "frame along the trim",
                ("review",),
                [job.trim.grown(-inset)],
                measured=inset,
                edges=("top", "right", "bottom", "left"),
                matter="frame",
            ),
        )

    def lay_frame(self):
        """A frame just inside the safe zone: right."""
        self.frame(
            max(self.job.safe.values()) + self.rng.uniform(*BARELY), self.rng.uniform(0.25, 0.8), None
        )

    def frame(self, inset, thick, fault):
        outer = self.job.trim.grown(-inset)
        ground = self.layout.ground_at(outer)
        ink = colours.readable_ink(self.rng, self.layout.pixels(outer)) if ground else None
        if ink is None or self.occupied:
            return
        self.paint.append(
            drawing.rect(outer.grown(-thick / 2), fill="none", stroke=ink, stroke_width=thick)
        )
        inner = outer.grown(-thick)
        for side in (
            Box(outer.left, outer.top, outer.right, inner.top),
            Box(outer.left, inner.bottom, outer.right, outer.bottom),
            Box(outer.left, outer.top, inner.left, outer.bottom),
            Box(inner.right, outer.top, outer.right, outer.bottom),
        ):
            self.occupied.append((side, 1.5))
        if fault:
            fault.ground = ground
            self.faults.append(fault)


def united_boxes(boxes, wrong):
    def union(some):
        result = some[0]
        for box in some[1:]:
            result = result.united(box)
        return result

    return [union(boxes)] + ([union(wrong)] if wrong else [])
