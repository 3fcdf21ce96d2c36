"""Words on a picture, with their image kept: drawing letters is what a picture spends most of its time on."""

import math
from typing import Any

import numpy as np
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.text import Text
from matplotlib.transforms import IdentityTransform

# So many different words are kept for each place; a slider run back and forth needs no more.
KEPT = 64
MARGIN = 8


class Lettering(Text):
    """A text that draws its letters once for each wording, and after that only lays the image down again."""

    def __init__(self, *place: Any, **more: Any) -> None:
        super().__init__(*place, **more)
        self._images: dict[Any, tuple[np.ndarray, int, int]] = {}

    def draw(self, renderer: Any) -> None:
        """Lay the kept image down at the text's place; letter by letter only where that cannot be done."""
        if not self.get_visible() or not self.get_text():
            return
        x, y = self.get_transform().transform(self.get_unitless_position())
        if not isinstance(renderer, RendererAgg):
            super().draw(renderer)
            return
        if not (math.isfinite(x) and math.isfinite(y)):
            return
        key = (
            self.get_text(),
            self.get_color(),
            self.get_horizontalalignment(),
            self.get_verticalalignment(),
            renderer.dpi,
        )
        if key not in self._images:
            if len(self._images) >= KEPT:
                self._images.clear()
            self._images[key] = self._image(renderer.dpi)
        image, left, bottom = self._images[key]
        context = renderer.new_gc()
        renderer.draw_image(context, round(x) + left, round(y) + bottom, image)
        context.restore()
        self.stale = False

    def _image(self, dpi: float) -> tuple[np.ndarray, int, int]:
        """The words as pixels, bottom row first, and where their corner stands from the text's place."""
        place, transform = self.get_position(), self.get_transform()
        try:
            # Measured at the origin, then drawn in the middle of a scrap of paper just large enough.
            self._stand((0.0, 0.0))
            scrap = RendererAgg(1, 1, dpi)
            box = self.get_window_extent(scrap)
            margin = round(MARGIN * dpi / 100)
            left, bottom = math.floor(box.x0) - margin, math.floor(box.y0) - margin
            width, height = math.ceil(box.x1) + margin - left, math.ceil(box.y1) + margin - bottom
            paper = RendererAgg(width, height, dpi)
            self._stand((float(-left), float(-bottom)))
            super().draw(paper)
        finally:
            self.set_transform(transform)
            self.set_position(place)
        return np.asarray(paper.buffer_rgba())[::-1].copy(), left, bottom

    def _stand(self, place: tuple[float, float]) -> None:
        self.set_transform(IdentityTransform())
        self.set_position(place)
