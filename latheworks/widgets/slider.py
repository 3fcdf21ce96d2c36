"""The slider beside the box of a size: the browser's own range control, with a name and a value that can be spoken."""

import anywidget
import traitlets

# The stock slider of ipywidgets has no accessible name, and speaks its value rounded and without a unit.
_PAGE = """
function render({ model, el }) {
  const range = document.createElement("input");
  range.type = "range";
  // Else JupyterLab takes the arrow keys for itself.
  range.dataset.lmSuppressShortcuts = "true";
  function say() {
    const value = Number(model.get("value").toFixed(4));
    range.setAttribute("aria-valuetext", `${value} ${model.get("unit")}`.trim());
  }
  function show() {
    // The ends before the value, else the value is cut to the old ends.
    for (const name of ["min", "max", "step", "value"]) range[name] = model.get(name);
    range.setAttribute("aria-label", model.get("label"));
    say();
  }
  range.addEventListener("input", () => {
    model.set("value", range.valueAsNumber);
    say();
    model.save_changes();
  });
  model.on("change", show);
  show();
  el.append(range);
  return () => model.off("change", show);
}
export default { render };
"""


class Slider(anywidget.AnyWidget):
    """A slider that moves by steps; its own moves are not sent back to it, since each message costs time.

    A value between two steps stays as it is until somebody moves the slider.
    """

    _esm = _PAGE
    value = traitlets.CFloat(0.0).tag(sync=True, echo_update=False)
    min = traitlets.CFloat(0.0).tag(sync=True)
    max = traitlets.CFloat(1.0).tag(sync=True)
    step = traitlets.CFloat(1.0).tag(sync=True)
    label = traitlets.Unicode("").tag(sync=True)
    unit = traitlets.Unicode("").tag(sync=True)

    def __init__(self) -> None:
        super().__init__()
        self.add_class("lw-slider")
