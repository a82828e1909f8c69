"""Keeps pages with the truth about them, so that they are made once and measured by several builds."""
import contextlib
import json
import pathlib
import tempfile
from dataclasses import asdict


@contextlib.contextmanager
def page(folder, name, make, revive):
    """The path of page `name`, and what `make(path)` returned for it: made now, or taken from `folder` if it was
    kept there. Without a folder the page goes when it has been measured. `revive` reads one truth back."""
    if folder is None:
        with tempfile.TemporaryDirectory(prefix="frisket-resolution-") as passing:
            path = pathlib.Path(passing) / "page.ppm"
            yield path, make(path)
        return
    path, truth = folder / f"{name}.ppm", folder / f"{name}.json"
    if not truth.exists():
        made = make(path)
        part = truth.with_suffix(".part")
        part.write_text(json.dumps([asdict(one) for one in made]), encoding="utf-8")
        part.rename(truth)  # only now the page is there: a run that was stopped makes it again
    yield path, [revive(one) for one in json.loads(truth.read_text(encoding="utf-8"))]
