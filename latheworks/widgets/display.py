"""What all benches of a notebook share: inch or metric, desk or projector, and the style sheet."""

import traitlets

from latheworks.pictures.style import INK, Look


class DisplaySystem(traitlets.HasTraits):
    """The switches that every bench of the notebook watches.

    >>> DisplaySystem().look
    Look(system='metric', projector=False)
    """

    system = traitlets.Enum(["metric", "inch"], default_value="metric")
    projector = traitlets.Bool(False)

    @property
    def look(self) -> Look:
        """What pictures are to be drawn for."""
        return Look(self.system, self.projector)


display_system = DisplaySystem()

# Sizes are in em, so that one font size scales the words, the boxes and the sliders of a bench together.
STYLE = f"""<style>
.lw-bench {{ font-size: 13px; --lw-row: 2.3em; padding: 4px 2px; overflow: visible; color: {INK["outline"]};
  background: #fff; --jp-ui-font-color1: {INK["outline"]}; --jp-widgets-label-color: {INK["outline"]}; }}
.lw-bench.lw-projector {{ font-size: 20px; --jp-widgets-slider-handle-size: 26px;
  --jp-widgets-slider-track-thickness: 7px; }}
.lw-bench, .lw-bench * {{ --jp-widgets-font-size: 1em; --jp-widgets-inline-height: var(--lw-row); line-height: 1.35; }}
.lw-bench .widget-label, .lw-bench input, .lw-bench select, .lw-bench button, .lw-bench .widget-html-content
  {{ font-size: 1em !important; }}
.lw-bench.lw-projector .lw-reading {{ font-size: 1.1em; }}
.lw-bench .lw-controls {{ flex-wrap: wrap; overflow: visible; }}
.lw-bench .lw-control {{ width: 26.5em; overflow: visible; align-items: center; }}
.lw-bench .lw-control .widget-text, .lw-bench .lw-control .widget-dropdown {{ width: 18.5em; }}
.lw-bench .lw-wide .widget-text, .lw-bench .lw-wide .widget-dropdown {{ width: 24em; }}
.lw-bench .lw-control .widget-text > label, .lw-bench .lw-control .widget-dropdown > label {{ text-align: left; }}
.lw-bench .lw-control .widget-hslider {{ width: 7em; margin: 0 0.3em; }}
.lw-bench .lw-row {{ flex-wrap: wrap; overflow: visible; align-items: center; }}
.lw-bench .lw-row button {{ width: auto; padding: 0 0.8em; height: 2.2em; color: {INK["outline"]}; }}
.lw-bench button:focus-visible, .lw-bench input:focus-visible, .lw-bench select:focus-visible,
  .lw-bench summary:focus-visible, .lw-bench
  .noUi-handle:focus {{ outline: 3px solid {INK["limit"]}; outline-offset: 1px; }}
.lw-bench .lw-row .widget-dropdown {{ width: 10em; }}
.lw-bench .lw-row .widget-dropdown > label {{ width: 4em; }}
.lw-bench .lw-row .widget-checkbox, .lw-bench .lw-row .widget-checkbox label {{ width: auto; height: var(--lw-row);
  display: flex; align-items: center; margin: 0 2px; }}
.lw-bench .lw-row .widget-checkbox input {{ width: 1.1em; height: 1.1em; margin: 0 0.4em 0 0; }}
.lw-bench .lw-title {{ font-size: 1.15em !important; font-weight: 600; margin: 0; padding-right: 2em; }}
.lw-bench .lw-error > div {{ height: auto; }}
.lw-bench .lw-error [role="alert"] {{ border-left: 5px solid {INK["result"]}; padding: 4px 10px; white-space: pre-line;
  max-width: 62em; background: #fdf1ea; }}
.lw-bench .lw-main > .widget-html-content {{ display: flex; flex-wrap: wrap; align-items: flex-start; }}
.lw-bench .lw-main {{ overflow: visible; }}
.lw-bench .lw-picture {{ flex: 0 0 auto; margin: 0; max-width: 100%; contain: layout style paint; }}
.lw-bench .lw-picture img {{ display: block; max-width: 100%; height: auto; }}
.lw-bench .lw-main > .widget-html-content {{ border: 2px solid transparent; }}
.lw-bench.lw-stale .lw-main > .widget-html-content {{ border: 2px dashed {INK["result"]}; }}
.lw-bench.lw-stale .lw-picture, .lw-bench.lw-stale .lw-reading table {{ opacity: 0.7; }}
.lw-bench .lw-reading {{ flex: 1 1 12.5em; max-width: 26em; min-width: 11.5em; padding-left: 0.6em;
  box-sizing: border-box;
  contain: layout style; }}
.lw-bench .lw-reading.lw-two {{ flex-basis: 19em; min-width: 19em; }}
.lw-bench .lw-reading p {{ margin: 0 0 0.5em; }}
.lw-bench .lw-verdict {{ font-weight: 600; border-left: 5px solid; padding-left: 0.5em; }}
.lw-bench .lw-good {{ border-color: {INK["limit"]}; color: {INK["limit"]}; }}
.lw-bench .lw-old {{ border-color: {INK["quiet"]}; border-left-style: dashed; color: {INK["quiet"]};
  font-weight: normal; }}
.lw-bench .lw-bad {{ border-color: {INK["result"]}; color: {INK["result"]}; }}
.lw-bench table {{ border-collapse: collapse; font-size: 0.95em; }}
.lw-bench th, .lw-bench td {{ border: 0; line-height: 1.25;
  border-bottom: 1px solid #c8c8c8; padding: 2px 8px 2px 0; text-align: left;
  vertical-align: top; font-weight: normal; background: #fff; }}
.lw-bench td {{ white-space: nowrap; }}
.lw-bench thead th {{ font-weight: 600; }}
.lw-bench caption {{ text-align: left; font-weight: 600; }}
.lw-bench .lw-table {{ display: none; }}
.lw-bench .lw-fold:has(details[open]) + .lw-table {{ display: block; }}
@supports not selector(:has(a)) {{ .lw-bench .lw-table {{ display: block; }} }}
body:has(.lw-projector) .jp-CodeCell:has(.lw-bench) .jp-Cell-inputWrapper {{ display: none; }}
body:has(.lw-projector) .jp-MarkdownOutput {{ font-size: 20px; }}
</style>"""
