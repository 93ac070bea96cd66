"""A planned picture -> one file in the store.

Own pictures are decoded or drawn and written anew, so that nothing of the camera (place, time,
owner) and no code is left.
"""

from __future__ import annotations

import io
import warnings
from pathlib import Path
from typing import TYPE_CHECKING

from builder.make import drawings, svg
from builder.make.svg import MAX_SIDE_PX, UnfitError
from builder.model.plan import Picture
from builder.problems import Finding, Place, ProgramError
from builder.workspace.store import Store

if TYPE_CHECKING:
    from PIL.Image import Image

MAX_FILE_BYTES = 100_000_000  # a photograph has a tenth of it
MAX_PIXELS = 60_000_000  # a 60-megapixel photograph decodes to 180 MB
MAX_DRAWING_COLOURS = 256  # up to here it is a drawing, and is kept exactly
WEBP_QUALITY = 82  # of photographs, on WebP's own scale of 0 to 100
FORMATS = ("PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF")
RASTERS = (".png", ".jpg", ".jpeg", ".webp", ".gif", ".bmp", ".tif", ".tiff")
ENDINGS = (*RASTERS, ".svg")
REMEDY = "Open it in a picture program, save it as PNG or JPEG, and use that file."


def make(picture: Picture, store: Store) -> Path:
    """The file of `picture`, made when the store has none. A bad picture is a ProgramError."""
    suffix = ".webp" if picture.kind == "own" else ".svg"
    if not store.has(picture.key, suffix):
        try:
            store.put(picture.key, suffix, _made(picture))
        except UnfitError as error:
            raise ProgramError([_finding(picture.source, error)]) from None
    return store.path(picture.key, suffix)


def unfit(file: Path) -> str:
    """Why `file` cannot be a picture: the rest of a sentence that begins with its name; "" when it
    can."""
    try:
        _own(file)
    except UnfitError as error:
        return str(error)
    return ""


def told(source: str, reason: str) -> str:
    """The sentence about a picture that cannot be used; `reason` ends it, as `unfit` says."""
    return f"The picture `{Path(source).name}` {reason}."


def _finding(source: str, reason: UnfitError) -> Finding:
    return Finding(Place(source), "picture-file", "fault", told(source, str(reason)), REMEDY)


def _made(picture: Picture) -> bytes:
    if picture.kind == "own":
        return _own(Path(picture.source))
    if picture.kind == "ours":
        return svg.drawing(Path(picture.source).read_bytes(), picture.key[:12])
    file = drawings.svg(picture.source)
    if not file.is_file():
        raise UnfitError("is not in the set of drawings")
    return svg.drawing(file.read_bytes(), picture.source)


def _own(file: Path) -> bytes:
    if file.suffix.lower() not in ENDINGS:
        raise UnfitError("is of a kind that this tool cannot read")
    try:
        if file.stat().st_size > MAX_FILE_BYTES:
            raise UnfitError(f"has more than {MAX_FILE_BYTES // 1_000_000} MB")
        return _vector(file) if file.suffix.lower() == ".svg" else _raster(file)
    except OSError:
        raise UnfitError("cannot be read") from None


def _vector(file: Path) -> bytes:
    with file.open("rb") as stream:
        return _webp(svg.own(stream.read(svg.MAX_BYTES + 1)))


def _raster(file: Path) -> bytes:
    """The picture upright, in sRGB, at most MAX_SIDE_PX long, as WebP without metadata."""
    from PIL import ImageOps

    with _opened(file) as image:
        try:
            upright = _in_srgb(ImageOps.exif_transpose(image))
            upright.thumbnail((MAX_SIDE_PX, MAX_SIDE_PX))
            return _webp(upright)
        except (OSError, SyntaxError, ValueError, MemoryError, EOFError):
            raise UnfitError("is damaged: its end is missing") from None


def _opened(file: Path) -> Image:
    """The picture with only its head read, so that a bomb does not go off."""
    from PIL import Image, UnidentifiedImageError

    too_many = UnfitError(f"has more than {MAX_PIXELS // 1_000_000} million pixels")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = Image.open(file, formats=FORMATS)
    except Image.DecompressionBombError:
        raise too_many from None
    except (UnidentifiedImageError, SyntaxError, ValueError):
        raise UnfitError("cannot be read as a picture") from None
    if image.width * image.height > MAX_PIXELS:
        image.close()
        raise too_many
    return image


def _in_srgb(image: Image) -> Image:
    """RGB, or RGBA where something shows through; colors of another profile are converted."""
    from PIL import ImageCms

    profile = image.info.get("icc_profile")
    image = image.convert("RGBA" if image.has_transparency_data else "RGB")
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB"), inPlace=True)
        except (ImageCms.PyCMSError, OSError):
            pass  # a profile of grays or inks, or a broken one: the plain numbers are near enough
    return image


def _webp(image: Image) -> bytes:
    from PIL import Image as Images

    clean = Images.new(image.mode, image.size)  # a new picture has no metadata to carry over
    clean.paste(image)
    few = clean.getcolors(MAX_DRAWING_COLOURS) is not None
    stream = io.BytesIO()
    clean.save(stream, "WEBP", lossless=few, quality=WEBP_QUALITY, method=4)
    return stream.getvalue()
