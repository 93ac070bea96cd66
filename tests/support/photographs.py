"""A tablet's codes, drawn by a library of its own and photographed as by a hand."""

from __future__ import annotations

import io

import numpy as np
import qrcode
from PIL import Image, ImageFilter


def drawn(text: str) -> Image.Image:
    """A code as a tablet shows it: level L, four modules of margin."""
    code = qrcode.QRCode(error_correction=qrcode.constants.ERROR_CORRECT_L, box_size=6, border=4)
    code.add_data(text)
    code.make()
    return code.make_image().get_image().convert("L")


def photographed(image: Image.Image) -> Image.Image:
    """From a slant, turned by 20°, in poor light, a little out of focus, with noise."""
    wide, high = image.size
    corners = (0.04 * wide, 0, 0, high, 0.97 * wide, 0.94 * high, wide, 0.05 * high)
    turned = image.transform(image.size, Image.Transform.QUAD, corners, fillcolor=255).rotate(
        20, Image.Resampling.BICUBIC, expand=True, fillcolor=120
    )
    dim = np.asarray(turned.filter(ImageFilter.GaussianBlur(1.2)), float) * 0.5 + 60
    shade = np.linspace(0.7, 1.0, dim.shape[1])
    noise = np.random.default_rng(7).normal(0, 6, dim.shape)
    return Image.fromarray(np.clip(dim * shade + noise, 0, 255).astype(np.uint8))


def data(image: Image.Image, form: str = "JPEG") -> bytes:
    stream = io.BytesIO()
    image.save(stream, form)
    return stream.getvalue()
