"""What somebody sees who opens the link for the first time."""

from playwright.sync_api import expect


def test_the_first_visit_shows_lesson_00_alone_and_the_way_to_the_others(page, lab):
    page.goto(lab.link)
    title = page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) h1").first
    expect(title).to_contain_text("before I stand at the lathe?")
    tabs = page.locator(".lm-DockPanel-tabBar .lm-TabBar-tabLabel")
    expect(tabs).to_have_text(["00_start_here.ipynb"])
    expect(page.locator(".jp-DirListing-item", has_text="10_plan")).to_be_visible()
