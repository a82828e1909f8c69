#!/usr/bin/python3
"""Makes the pages of the speed benchmark from a seed, each with its ticket; what is there already stays.

usage: making.py FOLDER PAGE_MAKER full|small [NAME…]

A process of its own, so that what it takes of memory is not counted for what is measured. Drawings are rendered by
librsvg and saved by libvips, strip by strip: an A0 sheet takes no more memory than its strips.
"""
import os
import pathlib
import random
import subprocess
import sys
from dataclasses import replace

import numpy
from PIL import Image
from scipy import ndimage

import drawings
import sheets
from photograph import photograph

SEED = 1807
PICTURE = (4200, 3150)
# libpng's own defaults, which most programs write with: level 6, the filter chosen row by row.
PNG = ("--compression", "6", "--filter", "all")
LZW = ("--compression", "lzw", "--predictor", "horizontal")
SPECKS = 100_000


def vips(*words):
    subprocess.run(["vips", *map(str, words)], check=True, stdout=subprocess.DEVNULL)


def save_array(file, rows, dpi):
    Image.fromarray(rows).save(file, dpi=(dpi, dpi), compress_level=6)


def photograph_page(file, page):
    save_array(file, photograph(SEED, *page.sheet.pixels(page.dpi)), page.dpi)


def worn(rows, dpi):
    """A page as a scanner sees it: soft, on paper that is neither quite white nor evenly lit, with noise."""
    rows = ndimage.gaussian_filter(rows, (0.7 * dpi / 300, 0.7 * dpi / 300, 0))
    chance = numpy.random.default_rng(SEED)
    light = 0.965 - 0.06 * numpy.linspace(0, 1, rows.shape[1], dtype=numpy.float32)[None, :, None]
    for top in range(0, rows.shape[0], 256):
        strip = rows[top:top + 256] * light
        strip += chance.normal(0, 4, strip.shape).astype(numpy.float32)
        rows[top:top + 256] = numpy.clip(strip, 0, 255).astype(numpy.uint8)
    return rows


def specks_page(file, page):
    width, height = page.sheet.pixels(page.dpi)
    chance = numpy.random.default_rng(SEED)
    rows = numpy.full((height, width, 3), 255, numpy.uint8)
    count = SPECKS if page.dpi >= 300 else SPECKS // 100
    for x, y, size in zip(chance.integers(0, width, count), chance.integers(0, height, count),
                          chance.integers(1, 5, count)):
        rows[y:y + size, x:x + size] = 30
    save_array(file, rows, page.dpi)


def checkerboard_page(file, page):
    width, height = page.sheet.pixels(page.dpi)
    board = (numpy.add.outer(numpy.arange(height), numpy.arange(width)) & 1).astype(numpy.uint8) * 255
    save_array(file, numpy.repeat(board[..., None], 3, 2), page.dpi)


def noise_page(file, page):
    width, height = page.sheet.pixels(page.dpi)
    save_array(file, numpy.random.default_rng(SEED).integers(0, 256, (height, width, 3), numpy.uint8), page.dpi)


def card_page(file, page):
    rows = numpy.full((100, 100, 3), 255, numpy.uint8)
    rows[:, :40] = (29, 53, 87)
    rows[30:60, 60:80] = 30
    save_array(file, rows, page.dpi)


DRAWN = {"leaflet": drawings.leaflet, "type": drawings.type_page, "line-work": drawings.line_work}
PAINTED = {"photograph": photograph_page, "specks": specks_page, "card": card_page,
           "checkerboard": checkerboard_page, "noise": noise_page}


class Maker:
    def __init__(self, folder, page_maker):
        self.folder, self.page_maker = folder, page_maker
        self.sources = folder / "sources"
        self.sources.mkdir(parents=True, exist_ok=True)

    def once(self, file, make):
        """A file that is not there yet is made beside its place and appears whole."""
        if not file.exists():
            half = file.with_name(".half-" + file.name)
            make(half)
            os.replace(half, file)
        return file

    def picture(self):
        """The leaflet's photograph; drawings name it beside them."""
        return self.once(self.sources / "picture.jpg",
                         lambda half: Image.fromarray(photograph(SEED + 1, *PICTURE)).save(half, quality=95, subsampling=0)).name

    def draw(self, file, page):
        drawing = DRAWN[page.source](random.Random(SEED), page.sheet, self.picture())
        svg, plain = self.sources / ".half.svg", self.sources / ".half.png"
        svg.write_text(drawing, "utf-8")
        subprocess.run([self.page_maker, svg, plain, "--dpi", str(page.dpi)], check=True)
        vips("pngsave", plain, file, *PNG)
        svg.unlink(), plain.unlink()

    def scan(self, file, page):
        with Image.open(self.source(page, "type")) as image:
            save_array(file, worn(numpy.asarray(image.convert("RGB")), page.dpi), page.dpi)

    def source(self, page, drawn=None):
        """The page as PNG, of which the files of all kinds are made."""
        drawn = drawn or page.source
        file = self.sources / f"{drawn}-{'x'.join(map(str, page.sheet.pixels(page.dpi)))}.png"
        if drawn in DRAWN:
            return self.once(file, lambda half: self.draw(half, replace(page, source=drawn)))
        return self.once(file, lambda half: self.scan(half, page) if drawn == "scan" else PAINTED[drawn](half, page))

    def save_as(self, kind, source, file):
        if kind == "png":
            os.link(source, file)
        elif kind == "jpg":
            vips("jpegsave", source, file, "--Q", 92)
        elif kind == "lzw":
            vips("tiffsave", source, file, *LZW)
        elif kind == "plain":
            vips("tiffsave", source, file)
        elif kind == "cmyk":
            vips("icc_transform", source, f"{file}[compression=lzw,predictor=horizontal]", "cmyk",
                 "--input-profile", "srgb")
        else:
            vips("colourspace", source, f"{file}[bitdepth=1,compression=ccittfax4]", "b-w")

    def make(self, page):
        self.once(self.folder / page.name, lambda half: self.save_as(page.kind, self.source(page), half))
        (self.folder / page.ticket).write_text(page.sheet.ticket(page.dpi))


def main():
    folder, page_maker, chosen, *names = sys.argv[1:]
    Image.MAX_IMAGE_PIXELS = None
    maker = Maker(pathlib.Path(folder), page_maker)
    for page in sheets.SETS[chosen]:
        if not names or page.name in names:
            maker.make(page)
            print(page.name, file=sys.stderr, flush=True)


if __name__ == "__main__":
    main()
