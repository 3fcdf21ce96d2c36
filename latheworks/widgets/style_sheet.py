"""The style sheet of the benches: at a desk, and on a projector's page of 1280 by 720 pixels."""

from latheworks.pictures.style import INK

# Sizes are in em, so that one font size scales the words, the boxes and the sliders of a bench together.
DESK = f"""
.lw-bench {{ font-size: 13px; --lw-row: 2.3em; padding: 4px 2px; overflow: visible; color: {INK["outline"]};
  background: #fff; --jp-ui-font-color1: {INK["outline"]}; --jp-widgets-label-color: {INK["outline"]}; }}
.lw-bench, .lw-bench * {{ --jp-widgets-font-size: 1em; --jp-widgets-inline-height: var(--lw-row); line-height: 1.35; }}
.lw-bench .widget-label, .lw-bench input, .lw-bench select, .lw-bench button, .lw-bench .widget-html-content
  {{ font-size: 1em !important; }}
.lw-bench .lw-controls {{ flex-wrap: wrap; overflow: visible; }}
.lw-bench .lw-control {{ width: 26.5em; overflow: visible; align-items: center; }}
.lw-bench .lw-control .widget-text, .lw-bench .lw-control .widget-dropdown {{ width: 18.5em; }}
.lw-bench .lw-wide .widget-text, .lw-bench .lw-wide .widget-dropdown {{ width: 24em; }}
.lw-bench .lw-control .widget-text > label, .lw-bench .lw-control .widget-dropdown > label {{ text-align: left;
  white-space: normal; overflow: visible; line-height: 1.1; align-self: center; height: auto; }}
.lw-bench .lw-row {{ flex-wrap: wrap; overflow: visible; align-items: center; }}
.lw-bench .lw-row button {{ width: auto; padding: 0 0.8em; height: 2.2em; color: {INK["outline"]}; }}
.lw-bench button:focus-visible, .lw-bench input:focus-visible, .lw-bench select:focus-visible,
  .lw-bench summary:focus-visible {{ outline: 3px solid {INK["limit"]} !important; outline-offset: 1px; }}
.lw-bench .lw-row .widget-dropdown {{ width: 10em; }}
.lw-bench .lw-row .widget-dropdown > label {{ width: 4em; }}
.lw-bench .lw-row .widget-checkbox, .lw-bench .lw-row .widget-checkbox label {{ width: auto; height: var(--lw-row);
  display: flex; align-items: center; margin: 0 2px; }}
.lw-bench .lw-row .widget-checkbox input {{ width: 1.1em; height: 1.1em; margin: 0 0.4em 0 0; }}
.lw-bench .lw-title {{ font-size: 1.15em !important; font-weight: 600; margin: 0; flex: 1 1 auto; padding-right: 1em; }}
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
.lw-bench td.lw-long {{ white-space: normal; }}
.lw-bench thead th {{ font-weight: 600; }}
.lw-bench caption {{ text-align: left; font-weight: 600; }}
.lw-bench .lw-table {{ display: none; }}
.lw-bench .lw-fold:has(details[open]) + .lw-table {{ display: block; }}
@supports not selector(:has(a)) {{ .lw-bench .lw-table {{ display: block; }} }}
"""
# The browser's own range control, in the colors of the picture.
_TRACK = f"height: 0.4em; border-radius: 0.2em; background: {INK['hatch']}; border: 0;"
_THUMB = f"""width: 1.1em; height: 1.1em; border-radius: 50%; border: 2px solid #fff; background: {INK["limit"]};
  box-sizing: border-box;"""
SLIDER = f"""
.lw-bench .lw-control input[type=range] {{ appearance: none; width: 100%; margin: 0; height: 1.6em; cursor: pointer;
  background: none; font-size: 1em; }}
.lw-bench .lw-control .lw-slider {{ flex: 1 1 7em; min-width: 5em; margin: 0 0.3em; overflow: visible; }}
.lw-bench input[type=range]::-webkit-slider-runnable-track {{ {_TRACK} }}
.lw-bench input[type=range]::-moz-range-track {{ {_TRACK} }}
.lw-bench input[type=range]::-webkit-slider-thumb {{ appearance: none; margin-top: -0.35em; {_THUMB} }}
.lw-bench input[type=range]::-moz-range-thumb {{ {_THUMB} }}
"""

# On a projector the picture and its reading come first, with the controls in two columns below, and everything but
# the lesson leaves the page: the code, the prompts, the file list, the tool bar, the status bar. JupyterLab sets the
# places of its panels in pixels; with the switch off, they are again where it put them.
_ROOM, _BIG = "body:has(.lw-projector)", ".lw-bench.lw-projector"
_PANEL = f"{_ROOM} .jp-NotebookPanel:has(.lw-projector)"
PROJECTOR = f"""
{_BIG} {{ font-size: 18px; --lw-row: 1.8em; padding: 0; }}
{_BIG} > * {{ margin: 0 2px; }}
{_BIG} > .lw-error {{ order: 1; }}
{_BIG} > .lw-main {{ order: 2; }}
{_BIG} > .lw-controls {{ order: 3; display: grid; grid-template-columns: repeat(2, minmax(0, 1fr));
  column-gap: 1.5em; }}
{_BIG} > .lw-shows {{ order: 4; }}
{_BIG} > .lw-fold {{ order: 5; }}
{_BIG} > .lw-table {{ order: 6; }}
{_BIG} .lw-control, {_BIG} .lw-control .lw-slider {{ width: auto; }}
{_BIG} .lw-control label {{ width: 12.5em !important; }}
{_BIG} .lw-control .widget-text, {_BIG} .lw-control .widget-dropdown {{ width: 20.5em; }}
{_BIG} .lw-wide .widget-text, {_BIG} .lw-wide .widget-dropdown {{ width: 100%; }}
{_BIG} .lw-row button {{ height: 1.8em; padding: 0 0.5em; }}
{_BIG} .lw-main > .widget-html-content {{ flex-wrap: nowrap; }}
{_BIG} .lw-reading, {_BIG} .lw-reading.lw-two {{ flex: 1 1 0; min-width: 15em;
  max-width: none; font-size: 1em; }}
{_BIG} table {{ font-size: 1em; }}
{_BIG} th, {_BIG} td {{ padding: 0 6px 0 0; line-height: 1.2; }}
{_BIG} .lw-two .lw-note {{ display: none; }}
{_BIG} .lw-reading p {{ margin: 0 0 0.25em; line-height: 1.25; }}
{_ROOM} .jp-CodeCell:has(.lw-bench) .jp-Cell-inputWrapper, {_ROOM} .jp-OutputPrompt,
  {_ROOM} .jp-OutputArea-promptOverlay, {_ROOM} .jp-CodeCell:has(.lw-bench) .jp-Collapser,
  {_ROOM} #jp-left-stack, {_ROOM} #jp-right-stack, {_ROOM} .jp-SideBar, {_ROOM} #jp-bottom-panel,
  {_ROOM} #jp-main-split-panel > .lm-SplitPanel-handle {{ display: none !important; }}
{_ROOM} .jp-NotebookPanel-toolbar, {_ROOM} .lm-DockPanel-tabBar {{ visibility: hidden; }}
{_ROOM} #jp-main-content-panel {{ height: calc(100% - 28px) !important; }}
{_ROOM} #jp-main-vsplit-panel, {_ROOM} #jp-main-split-panel, {_ROOM} #jp-main-dock-panel, {_PANEL},
  {_PANEL} > .jp-Notebook {{ left: 0 !important; width: 100% !important; height: 100% !important; }}
{_PANEL}, {_PANEL} > .jp-Notebook {{ top: 0 !important; z-index: 1; }}
{_ROOM} .jp-CodeCell:has(.lw-bench) {{ padding-top: 0; padding-bottom: 0; }}
{_ROOM} .jp-MarkdownOutput {{ font-size: 20px; }}
"""
STYLE = f"<style>{DESK}{SLIDER}{PROJECTOR}</style>"
