"""The style sheet of an exercise: the same meanings of color as a bench, always beside a word."""

from latheworks.pictures.style import INK

# The projector's size comes with the class that a bench puts on the page, so no exercise has to watch a switch.
STYLE = f"""<style>
.lw-exercise {{ font-size: 13px; border-left: 3px solid {INK["outline"]}; padding: 2px 2px 4px 12px; margin: 4px 0;
  max-width: 62em; overflow: visible; }}
body:has(.lw-projector) .lw-exercise {{ font-size: 20px; }}
.lw-exercise, .lw-exercise * {{ --jp-widgets-font-size: 1em; line-height: 1.4; }}
.lw-exercise .widget-label, .lw-exercise label, .lw-exercise input, .lw-exercise textarea, .lw-exercise button,
  .lw-exercise .widget-html-content {{ font-size: 1em !important; }}
.lw-exercise button {{ width: auto; height: 2.2em; padding: 0 0.9em; }}
.lw-exercise .widget-text {{ width: auto; min-width: 20em; }}
.lw-exercise .widget-text input {{ flex: 0 0 14em; }}
.lw-exercise button:focus-visible, .lw-exercise input:focus-visible, .lw-exercise textarea:focus-visible,
  .lw-exercise summary:focus-visible, .lw-download:focus-visible {{
  outline: 3px solid {INK["limit"]}; outline-offset: 1px; }}
.lw-feedback {{ border-left: 5px solid {INK["outline"]}; padding: 0 0 0 0.6em; margin: 0.3em 0; }}
.lw-feedback.lw-right {{ border-color: {INK["limit"]}; }}
.lw-feedback.lw-miss {{ border-color: {INK["result"]}; border-left-style: dashed; }}
.lw-whose {{ font-size: 0.92em; margin: 0.2em 0; }}
.lw-whose p {{ margin: 0.2em 0 0.2em 1em; }}
.lw-download {{ display: inline-block; padding: 0.2em 0.9em; border: 1px solid {INK["outline"]}; border-radius: 3px; }}
.lw-feedback p {{ margin: 0.2em 0; }}
.lw-feedback th, .lw-feedback td {{ text-align: left; padding: 2px 8px 2px 0; }}
</style>"""
