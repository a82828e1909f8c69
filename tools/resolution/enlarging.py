"""Enlarges pictures as image editors do, and what else may be done to their pixels afterwards."""
import io

import numpy
from PIL import Image, ImageFilter


def cubic(b, c):
    """Mitchell and Netravali, Reconstruction Filters in Computer Graphics, SIGGRAPH 1988."""

    def weight(t):
        t = numpy.abs(t)
        near = ((12 - 9 * b - 6 * c) * t**3 + (-18 + 12 * b + 6 * c) * t**2 + (6 - 2 * b)) / 6
        far = ((-b - 6 * c) * t**3 + (6 * b + 30 * c) * t**2 + (-12 * b - 48 * c) * t + (8 * b + 24 * c)) / 6
        return numpy.where(t < 1, near, numpy.where(t < 2, far, 0.0))

    return weight


def lanczos(t):
    return numpy.where(numpy.abs(t) < 3, numpy.sinc(t) * numpy.sinc(t / 3), 0.0)


WEIGHTS = {
    "bilinear": lambda t: numpy.maximum(0.0, 1.0 - numpy.abs(t)),
    "Mitchell": cubic(1 / 3, 1 / 3),
    "Catmull-Rom": cubic(0, 0.5),
    "cubic": cubic(0, 0.75),
    "Lanczos": lanczos,
}
KERNELS = ("nearest", "area", *WEIGHTS)
BY_PILLOW = {
    "nearest": Image.Resampling.NEAREST,
    "bilinear": Image.Resampling.BILINEAR,
    "Catmull-Rom": Image.Resampling.BICUBIC,
    "Lanczos": Image.Resampling.LANCZOS,
}


def mixing(kernel, start, factor, length, pixels):
    """Weights of `pixels` picture pixels in each of `length` page pixels; the picture begins at `start`."""
    at = (numpy.arange(length) + 0.5 - start) / factor  # in picture pixels, from their left edge
    index = numpy.arange(pixels)
    if kernel == "nearest":
        weights = (numpy.clip(numpy.floor(at), 0, pixels - 1)[:, None] == index).astype(float)
    elif kernel == "area":
        low, high = at - 0.5 / factor, at + 0.5 / factor
        weights = numpy.minimum(high[:, None], index + 1) - numpy.maximum(low[:, None], index)
        weights = numpy.maximum(weights, 0.0)
    else:
        weights = WEIGHTS[kernel](at[:, None] - 0.5 - index)
    return weights / numpy.maximum(weights.sum(1, keepdims=True), 1e-9)


def enlarged(picture, kernel, factors, size, rng):
    """`picture` enlarged by `factors` (x, y), cut to `size` at a place between pixels; RGB."""
    if kernel in BY_PILLOW and rng.random() < 0.5:
        left, top = rng.random(), rng.random()
        box = (left, top, left + size[0] / factors[0], top + size[1] / factors[1])
        return picture.resize(size, BY_PILLOW[kernel], box=box)
    pixels = numpy.asarray(picture, dtype=float)
    across = mixing(kernel, -rng.random() * factors[0], factors[0], size[0], pixels.shape[1])
    down = mixing(kernel, -rng.random() * factors[1], factors[1], size[1], pixels.shape[0])
    page = numpy.einsum("yv,vuc->yuc", down, pixels, optimize=True)
    page = numpy.einsum("xu,yuc->yxc", across, page, optimize=True)
    return Image.fromarray(numpy.clip(numpy.rint(page), 0, 255).astype(numpy.uint8))


def with_noise(image, rng):
    noise = numpy.random.default_rng(rng.getrandbits(64)).normal(0, rng.uniform(0.4, 1.2), (image.height, image.width, 3))
    return Image.fromarray(numpy.clip(numpy.rint(numpy.asarray(image) + noise), 0, 255).astype(numpy.uint8))


def sharpened(image, rng):
    return image.filter(ImageFilter.UnsharpMask(rng.uniform(0.6, 1.2), rng.randint(25, 60), 0))


def colour_converted(image, rng):
    """Gamma, a mix of the channels and less saturation, each rounded: what a change of profile does."""
    values = (numpy.asarray(image) / 255.0) ** rng.uniform(0.85, 1.2)
    amount = rng.uniform(0.02, 0.12)
    grey = values @ numpy.array([0.299, 0.587, 0.114])
    values = values * (1 - amount) + amount * grey[..., None]
    return Image.fromarray(numpy.rint(numpy.clip(values, 0, 1) * 255).astype(numpy.uint8))


AFTER = {"noise": with_noise, "sharpening": sharpened, "colour conversion": colour_converted}


def as_jpeg(image, quality, subsampling):
    """The image after it was saved as JPEG and opened again."""
    saved = io.BytesIO()
    image.save(saved, "JPEG", quality=quality, subsampling=subsampling)
    return Image.open(io.BytesIO(saved.getvalue())).convert("RGB")
