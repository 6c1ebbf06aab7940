"""The captions of a built lesson, as a browser's track element reads them."""

import base64

from playwright.sync_api import Browser

from fastness.language import ENGLISH
from fastness.lessons.example import EXAMPLES
from fastness.lessons.reading import read_lesson
from fastness.publish.captions import vtt
from fastness.publish.lesson_show import show_of
from tests.publish.webvtt import read

LOADED = """
async (address) => {
  const video = document.createElement("video");
  const track = document.createElement("track");
  track.kind = "captions";
  track.src = address;
  video.append(track);
  document.body.append(video);
  const over = new Promise((told, failed) => {
    track.onload = told;
    track.onerror = () => failed(new Error("the captions were refused"));
  });
  track.track.mode = "hidden";
  await over;
  return Array.from(track.track.cues, (cue) => [cue.id, cue.startTime, cue.endTime, cue.text]);
}
"""


def test_a_browser_reads_the_same_captions(browser: Browser) -> None:
    lesson = read_lesson(EXAMPLES["en"].replace("the pawn takes", "the pawn <&> takes"))
    data = vtt(show_of(lesson, "A lesson", ENGLISH)).encode()
    page = browser.new_page()
    address = f"data:text/vtt;base64,{base64.b64encode(data).decode()}"
    found = page.evaluate(LOADED, address)
    page.close()
    cues = read(data)
    assert [(name, round(start * 1000), round(end * 1000)) for name, start, end, _ in found] == [
        (cue.name, cue.start, cue.end) for cue in cues
    ]
    texts = [text.replace("&lt;", "<").replace("&gt;", ">") for *_, text in found]
    assert [text.replace("&amp;", "&") for text in texts] == [cue.text for cue in cues]
    assert any("<&>" in cue.text for cue in cues)
