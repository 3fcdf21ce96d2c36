"""What an infeed schedule says in words: what it assumes, what to mind, and the usual cautions."""

from functools import lru_cache

from latheworks.materials import Material
from latheworks.shop import cautions
from latheworks.threads.forms import form
from latheworks.threads.spec import PARALLEL_PIPE
from latheworks.threads.thread import Thread

_METHODS = {
    "radial": "Straight in on the cross slide: both flanks cut at once, and the two chips crowd each other.",
    "flank": "Compound at {half:g} degrees: the leading flank cuts, the trailing one only slides along the work.",
    "modified flank": "Compound a little under {half:g} degrees: the leading flank cuts and the trailing one is shaved "
    "clean. The tool still points square to the work: its included angle is {whole:g}.",
    "alternating flank": "Cross slide for the depth, top slide along the axis for the side shift: one flank cuts and "
    "then the other, so the tool wears evenly.",
}


@lru_cache(maxsize=256)
def notes_for(thread: Thread, law: str, method: str, material: Material, chosen: bool, usual_depth: bool,
              usual_spindle: bool) -> tuple[str, ...]:  # fmt: skip
    """The notes in reading order; chosen, usual_depth and usual_spindle say what was left to the defaults."""
    said = []
    shape = form(thread)
    if usual_depth:
        part = "root" if thread.external else "major diameter"
        share = shape.depth / shape.pitch
        said.append(f"Depth {share:.4f} P ({shape.share}) on the radius, to the {part} of the basic form.")
    if thread.planes is not None:
        said.append("Turn or bore the blank to the same taper first, 1 in 16 on the diameter (1 degree 47 minutes a "
                    "side), and guide the carriage by a taper attachment. Set the tool square to the axis, not to the "
                    "taper, and its point on the center line.")  # fmt: skip
        said.append("Start and finish diameters are those of the tool's point on the basic form: try the gage, which "
                    "may stand one turn off either way.")  # fmt: skip
    elif thread.external:
        said.append("Turn the blank to the class's limits of the major diameter first, not to the nominal size.")
    else:
        said.append("Bore to the class's limits of the minor diameter first, not to a tap drill's size.")
    said.append("A dial that reads diameter shows twice the depth: see which kind this lathe has.")
    if shape.trapezoidal:
        said.append("The tool is as wide as the root: grind its side clearance for the helix, and rough with a "
                    "narrower one where the load is too much (common practice, no source).")  # fmt: skip
    if thread.system == PARALLEL_PIPE:
        said.append(
            "Crest and root of this form are rounded, radius 0.137 P; a flat of P/6 stands in for the round here."
        )
    if shape.trapezoidal and law == "equal area":
        said.append(
            "The wide root makes the chips grow less with depth than in a V: equal steps come nearer to equal chips."
        )
    elif law == "equal area":
        said.append("Chips of equal area hold for a sharp V; the tool's flat makes the first ones larger.")
    elif law == "equal depth":
        said.append("Equal steps make each chip larger than the one before: the last pass is the heaviest.")
    said.append(_METHODS[method].format(half=shape.half_angle, whole=2 * shape.half_angle))
    if chosen:
        said.append("Passes chosen: the fewest from 4 up that load the tool no more than a first cut of 0.25 mm x "
                    "sqrt(pitch / 1 mm) straight in (common practice, no source).")  # fmt: skip
    if usual_spindle:
        said.append("Spindle from the material's usual threading speed (common practice, no source), in tens, "
                    "between the lathe's slowest and the limit.")  # fmt: skip
    if thread.starts > 1:
        said.append(f"{thread.starts} starts: gear for the lead, cut to the depth of the pitch, and repeat all "
                    "passes for each start.")  # fmt: skip
    if thread.hand == "left":
        said.append("Left hand: the carriage feeds away from the headstock, and shifts count that way; start in a "
                    "groove or clear of the end.")  # fmt: skip
    if material.specific_cutting_force is None:
        said.append(f"No force: no published cutting pair for {material.name} is known here.")
    else:
        said.append("Force is a guide: published pairs scatter, chips under 0.05 mm take more than computed, and the "
                    "push away from the work can be as large (practice, no source).")  # fmt: skip
    said.append(
        "Time counts the return at the carriage's largest feed, and leaves out setting slides, measuring, chips."
    )
    said.append(str(cautions("threading")[-1]))
    return tuple(said)
