"""A picture with the statistics of a photograph, of any size: nothing in it is as regular as a drawing."""
import numpy
from PIL import Image, ImageDraw

GRAIN = 2.5  # levels, as a sensor leaves it
SHADING = 14.0  # levels, of what is within a thing


def photograph(seed, width, height):
    """Rows of R G B. Things that lie on each other (dead leaves: Lee, Mumford, Huang, Occlusion models for natural
    images, Int. J. Computer Vision 41, 2001), each shaded as natural textures are, with a spectrum that falls with
    frequency (Field, J. Optical Society of America A 4, 1987); both sources from memory. Grain on top."""
    chance = numpy.random.default_rng(seed)
    scene = leaves(chance, width, height)
    shade = texture(chance, width, height)
    for top in range(0, height, 256):
        strip = scene[top:top + 256].astype(numpy.float32) + shade[top:top + 256, :, None]
        strip += chance.normal(0, GRAIN, strip.shape).astype(numpy.float32)
        scene[top:top + 256] = numpy.clip(strip + 0.5, 0, 255).astype(numpy.uint8)
    return scene


def leaves(chance, width, height):
    """Painted from the back to the front, twice as large and reduced, so that edges are as soft as a lens leaves them."""
    image = Image.new("RGB", (2 * width, 2 * height), (96, 110, 120))
    draw = ImageDraw.Draw(image)
    largest = 0.12 * max(image.size)
    smallest = largest / 40
    count = int(1.2 * image.width * image.height / (9 * smallest**2))
    for share in chance.uniform((smallest / largest) ** 2, 1.0, count):
        radius = smallest / share**0.5
        flat = chance.uniform(0.4, 1.0)
        x, y = chance.uniform(0, image.width), chance.uniform(0, image.height)
        colour = tuple(int(level) for level in numpy.clip(chance.integers(30, 220) + chance.integers(-35, 36, 3), 0, 255))
        draw.ellipse((x - radius, y - flat * radius, x + radius, y + flat * radius), fill=colour)
    return numpy.array(image.resize((width, height), Image.Resampling.BOX))


def texture(chance, width, height):
    """A field of levels around 0 whose amplitude falls as one over frequency."""
    spectrum = numpy.fft.rfft2(chance.standard_normal((height, width), numpy.float32)).astype(numpy.complex64)
    across, down = numpy.fft.rfftfreq(width), numpy.fft.fftfreq(height)
    frequency = numpy.hypot(down[:, None], across[None, :]).astype(numpy.float32)
    frequency[0, 0] = numpy.inf
    field = numpy.fft.irfft2(spectrum / frequency, (height, width)).astype(numpy.float32)
    return field * numpy.float32(SHADING / field.std())
