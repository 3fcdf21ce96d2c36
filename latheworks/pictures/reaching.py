"""A tool sliding along the wanted profile, and the material that it has to leave, each piece with its reason."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.pictures.canvas import Picture
from latheworks.pictures.drafting import NOWHERE, Sheet, between, box, together
from latheworks.pictures.style import FILL, Table
from latheworks.pictures.tool_outline import ToolShape, outline

# Reason: its word on the picture.
WORDS = {
    "nose": "nose", "blade": "blade", "back": "back of the insert", "front": "entering edge", "holder": "holder",
    "bar": "boring bar", "jaws": "jaws", "center": "center", "bar length": "bar too short", "bore": "bore too small",
}  # fmt: skip
LARGER = 5.0  # the detail, against the view above it
ROWS, LISTED = 3, 5
_MAIN, _DETAIL = (0.0125, 0.475, 0.975, 0.46), (0.0125, 0.015, 0.43, 0.40)


@dataclass(frozen=True)
class Piece:
    """Material left standing: from start to end [mm], its area [mm²], the most on the radius [mm], why, how often."""

    start: float
    end: float
    area: float
    height: float
    count: int
    reason: str
    why: str


@dataclass(frozen=True)
class Reached:
    """What the picture needs: lengths in mm, radii from the axis, areas in mm².

    `z` and `radius` are the corners of the wanted profile; `along`, `wanted` and `left` the same finely with what the
    tool leaves. `other` is the radius of the part's other side: a bore's, or the outside around a bore. `jaws` and
    `center` are where they begin and their radius. `place` and `path` are where the nose can go; `at` is where it is.
    """

    work: str
    inside: bool
    z: np.ndarray
    radius: np.ndarray
    stock: float
    other: float
    jaws: tuple[float, float] | None
    center: tuple[float, float] | None
    along: np.ndarray
    wanted: np.ndarray
    left: np.ndarray
    pieces: tuple[Piece, ...]
    area: float
    tool: ToolShape
    at: float
    tip: float
    stopped: str

    @property
    def setting(self) -> tuple[Any, ...]:
        """What the closing depends on: everything but the place of the tool."""
        return (self.work, self.tool, self.jaws, self.center)

    @property
    def up(self) -> float:
        """Which way a tool draws back: 1 out from the axis, -1 in a bore, toward it."""
        return -1.0 if self.inside else 1.0


class ReachPicture(Picture):
    """The work in half section and the tool, to scale; below it the tip larger, and a list of what is left."""

    def build(self) -> None:
        self.main = self.canvas.axes(*_MAIN, frame=False)
        self.close = self.canvas.axes(*_DETAIL, frame=False)
        self.listed = self.canvas.axes(0.46, 0.0, 0.53, 0.43, frame=False)
        still, rows = Sheet(self.canvas, self.main, resting=True), Sheet(self.canvas, self.listed, resting=True)
        sheet, detail = Sheet(self.canvas, self.main), Sheet(self.canvas, self.close)
        self.metal = still.area("work", hatch="////", width=0.0)
        self.holding = still.shapes("tool", 1.0)
        self.pieces = still.areas("result", "result", "xxxxx")
        self.stock = still.line("quiet", "finished", 1.0)
        self.finished = still.line("outline", width=1.6)
        self.axis = still.center_line()
        self.kept = still.line("kept", "kept", 1.4)
        self.leaders = still.line("result", width=0.8)
        self.names = [still.words(meaning="result", across="left") for _ in range(2 * ROWS)]
        self.held_words = [still.words(word, "tool") for word in ("jaws", "center")]
        self.title = still.words(fixed=True, across="left", up="bottom")
        self.title.set_position((0.0, 1.02))
        still.words("\u25c4 headstock side", "quiet", fixed=True, across="left", up="bottom").set_position((0.0, 0.0))
        self.body, self.tip = sheet.area("tool", "tool"), sheet.area(None, "tool", width=1.4)
        self.tip.set_facecolor("white")
        self.frame = sheet.line("quiet", width=0.8)
        self.near = detail.area("work", hatch="////", width=0.0)
        self.near_left = detail.area("result", "result", hatch="xxxx", width=1.0)
        self.near_body, self.near_tip = detail.area("tool", "tool"), detail.area(None, "tool", width=1.6)
        self.near_tip.set_facecolor("white")
        self.near_wanted = detail.line("outline", width=1.8)
        edge = detail.line("quiet", width=1.0, transform=self.close.transAxes, clip_on=False)
        edge.set_data([0, 1, 1, 0, 0], [0, 0, 1, 1, 0])
        self.near_words = detail.words(f"detail at the tool, {LARGER:g} times larger", fixed=True, up="bottom",
                                       across="left")  # fmt: skip
        self.near_words.set_position((0.0, 1.02))
        self.listing = rows.words(fixed=True, across="left", up="top", backed=False, linespacing=1.35)
        self.listing.set_position((0.0, 0.99))
        self.now = Sheet(self.canvas, self.listed).words(meaning="result", fixed=True, across="left", up="bottom")
        self.now.set_position((0.0, 0.02))

    def update(self, data: Reached, kept: Reached | None) -> None:
        k = self.look.length
        left, right, low, high = _sheet(data)
        self.canvas.limits(self.main, (left * k, right * k), (low * k, high * k))
        tall = 0.4 * self.height / (0.43 * self.width) * 0.5  # half of the detail's height, in shares of its width
        wide = (right - left) * _DETAIL[2] / _MAIN[2] / LARGER / 2
        self.canvas.limits(self.close, (-wide * k, wide * k), (-2 * tall * wide * k, 2 * tall * wide * k))
        key = (data.setting, None if kept is None else kept.setting)
        self.canvas.when_changed("work", key, lambda: self._draw_work(data, kept))
        tip, body = outline(data.tool, high - low)
        place = np.array([data.at, data.tip])
        for shape, artist in ((tip, self.tip), (body, self.body)):
            artist.set_xy((place + shape * (1, data.up)) * k)
        # The detail: the tip a little below the middle of its frame, the frame fixed, everything else moved.
        aim = np.array([data.at, data.tip + data.up * 0.35 * tall * wide])
        self.frame.set_data(*((aim + wide * np.array([(-1, -2 * tall), (1, -2 * tall), (1, 2 * tall), (-1, 2 * tall),
                                                      (-1, -2 * tall)])) * k).T)  # fmt: skip
        self._draw_detail(data, aim, wide, place, tip, body, k)
        self.now.set_text(f"tip at {self.look.mm(data.at)}, \u2300{self.look.mm(2 * data.tip)},\n"
                          f"stopped by {_stopped(data)}")  # fmt: skip

    def _draw_detail(self, data: Reached, aim: np.ndarray, wide: float, place: np.ndarray, tip: np.ndarray,
                     body: np.ndarray, k: float) -> None:  # fmt: skip
        for shape, artist in ((tip, self.near_tip), (body, self.near_body)):
            artist.set_xy((place + shape * (1, data.up) - aim) * k)
        first, last = np.searchsorted(data.along, [aim[0] - 1.2 * wide, aim[0] + 1.2 * wide])
        part = slice(max(first - 1, 0), last + 1)
        x, wanted, left = data.along[part] - aim[0], data.wanted[part] - aim[1], data.left[part] - aim[1]
        if x.size < 2:
            for artist in (self.near, self.near_left):
                artist.set_xy(NOWHERE)
            self.near_wanted.set_data([], [])
            return
        start = -1.3 * wide if first == 0 and not data.inside else x[0]
        run = np.concatenate([[start], x]) * k
        rise = np.concatenate([[wanted[0]], wanted])
        self.near.set_xy(between(run, rise * k, -data.up * 9 * wide * k))
        self.near_left.set_xy(between(x * k, wanted * k, left * k))
        self.near_wanted.set_data(run, rise * k)

    def _draw_work(self, data: Reached, kept: Reached | None) -> None:
        k, up = self.look.length, data.up
        left, right, low, high = _sheet(data)
        z, r = np.concatenate([[left - 1], data.z]), np.concatenate([data.radius[:1], data.radius])
        self.metal.set_xy(between(z, data.other, r) * k)
        ends = [(data.z[-1], data.other), (left - 1, data.other)]
        shape = np.concatenate([np.column_stack([z, r]), ends])
        self.finished.set_data(*(shape * k).T)
        self.stock.set_data(np.array([data.z[0], data.z[-1]]) * k, np.full(2, data.stock * k))
        self.axis.set_data([left * k, right * k], [0, 0])
        self._draw_holding(data, left, right, low, high)
        gap = data.left - data.wanted if not data.inside else data.wanted - data.left
        over = np.concatenate([[False], gap > 1e-4, [False]])
        runs = zip(np.flatnonzero(over[1:] & ~over[:-1]), np.flatnonzero(~over[1:] & over[:-1]), strict=True)
        self.pieces.set_path(together([between(data.along[i:j], data.wanted[i:j], data.left[i:j]) * k for i, j in
                                       ((max(a - 1, 0), b + 1) for a, b in runs)]))  # fmt: skip
        self.kept.set_data([], [])
        if kept is not None and kept.work == data.work:
            self.kept.set_data(kept.along * k, kept.left * k)
        where = "center line below" if low > 0 else "half section"
        self.title.set_text(f"{data.work}, {data.tool.name}: to scale, {where}")
        self._name_pieces(data, left, right, low, high, up)
        self._list(data, kept)

    def _draw_holding(self, data: Reached, left: float, right: float, low: float, high: float) -> None:
        k, shapes = self.look.length, []
        for words, held in zip(self.held_words, (data.jaws, data.center), strict=True):
            words.set_visible(held is not None)
            words.set_ha("center")
        if data.jaws is not None:
            face, across = data.jaws
            shapes.append(box(left - 1, float(data.radius[0]), face, across) * k)
            self.held_words[0].set_position(((left + face) / 2 * k, (data.radius[0] + 2.0) * k))
        if data.center is not None:
            face, across = data.center
            end, mouth = float(data.z[-1]), max(data.other, 0.15 * float(data.radius[-1]))
            shapes.append(np.array([(end, mouth), (face, across), (right + 1, across), (right + 1, low - 1),
                                    (end, low - 1)]) * k)  # fmt: skip
            self.held_words[1].set_position(((right - 0.5) * k, (data.radius[-1] + 2.0) * k))
            self.held_words[1].set_ha("right")
        self.holding.set_verts(shapes)
        self.holding.set_facecolor(FILL["tool"])

    def _name_pieces(self, data: Reached, left: float, right: float, low: float, high: float, up: float) -> None:
        """Words with a leader to the first of each kind of piece, in rows on the far side of the surface."""
        k, lines = self.look.length, []
        scale = (right - left) / (_MAIN[2] * self.width)  # mm a pixel, at a desk
        deep = float(data.radius.min() if up > 0 else data.radius.max())
        room = (deep - low if up > 0 else high - deep) - 0.5
        reached = [-np.inf] * ROWS
        for words in self.names:
            words.set_text("")
        for number, (words, piece) in enumerate(zip(self.names, data.pieces, strict=False)):
            text = f"{number + 1} {WORDS[piece.reason]}" + (f", {piece.count} times" if piece.count > 1 else "")
            long = self.look.points / 9.0 * 7.0 * len(text) * scale
            here = np.searchsorted(data.along, [piece.start, piece.end])
            most = here[0] + int(np.argmax(np.abs(data.left - data.wanted)[here[0] : here[1] + 1]))
            x, y = float(data.along[most]), float(data.wanted[most] + data.left[most]) / 2
            start = min(max(x - 0.25 * long, left + 14), right - long)
            row = next((i for i in range(ROWS) if reached[i] < start), ROWS - 1)
            reached[row] = start + long
            level = deep - up * room * (0.3 + 0.27 * row)
            words.set_position((start * k, level * k))
            words.set_text(text)
            lines += [(x, y), (x, level), (np.nan, np.nan)]
        self.leaders.set_data(*(np.array(lines).reshape(-1, 2) * k).T)

    def _list(self, data: Reached, kept: Reached | None) -> None:
        total = f"left standing: {self.look.mm2(data.area)}" if data.pieces else "nothing is left standing"
        total += f"\nkept: {self.look.mm2(kept.area)}" if kept is not None else ""
        rows = [f"{i + 1}  {WORDS[piece.reason]}: {_times(piece)}{self.look.mm2(piece.area)}"
                for i, piece in enumerate(data.pieces)]  # fmt: skip
        if len(rows) > LISTED:
            rows = [*rows[: LISTED - 1], "all of them are in the table"]
        self.listing.set_text("\n".join([total, *rows]))

    def alt(self, data: Reached, kept: Reached | None) -> str:
        look, tool = self.look, data.tool
        side = "bored out" if data.inside else "turned"
        angle = "" if tool.back is None else f", whose back clears a fall of {tool.back:g} degrees"
        words = f"The {data.work} in half section, {side} by a {tool.name}{angle}. "
        words += f"It leaves {look.mm2(data.area)} of the section standing: " if data.pieces else "It leaves nothing."
        words += "; ".join(f"{_times(piece)}{look.mm2(piece.area)} at {look.mm(piece.start)}, {piece.why}"
                           for piece in data.pieces)  # fmt: skip
        words += "." if data.pieces else ""
        words += (f" The tip stands at {look.mm(data.at)} from the headstock end, at a diameter of "
                  f"{look.mm(2 * data.tip)}, stopped by {_stopped(data)}.")  # fmt: skip
        return words if kept is None else f"{words} The setting kept for comparison left {look.mm2(kept.area)}."

    def table(self, data: Reached) -> Table:
        unit, number = self.look.length_unit, self.look.number
        headings = ("piece", f"from [{unit}]", f"to [{unit}]", f"most on the radius [{unit}]", f"area [{unit}\u00b2]",
                    "how often", "why")  # fmt: skip
        body = tuple(
            (str(i + 1), *map(number, (piece.start, piece.end, piece.height)),
             f"{piece.area * self.look.area:.{self.look.digits + 2}f}", str(piece.count), piece.why)
            for i, piece in enumerate(data.pieces)
        )  # fmt: skip
        return Table(f"Left standing on the {data.work} by the {data.tool.name}", headings, body)


def _times(piece: Piece) -> str:
    return f"{piece.count} times " if piece.count > 1 else ""


def _stopped(data: Reached) -> str:
    word = "the finished surface" if data.stopped in ("nose", "floor") else f"the {WORDS[data.stopped]}"
    return word.replace("the bar too short", "the length of the bar").replace("the bore too small", "the narrow bore")


def _sheet(data: Reached) -> tuple[float, float, float, float]:
    """The edges of the paper [mm]: left, right, low, high; the same scale both ways."""
    length = float(data.z[-1] - data.z[0])
    span = max(1.32 * length, 70.0)
    tall = span * _MAIN[3] * 400 / (_MAIN[2] * 640)
    left = float(data.z[0]) - (0.16 if data.jaws else 0.1) * span
    low = float(data.radius.max()) - (0.62 if data.inside else 0.55) * tall
    return left, left + span, low, low + tall
