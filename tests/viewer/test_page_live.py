"""What an open page is told as a design changes, breaks and is mended."""

from collections.abc import Iterator
from pathlib import Path

import jsonschema
import pytest
from dryfit.lang.cli import main
from dryfit.lang.files import MemoryFiles
from dryfit.lang.inspection import Request
from dryfit.viewer.live import MOST_NEWS, Live
from dryfit.viewer.looking import Looking
from dryfit.viewer.opened import Opened
from scenes import MESSAGES
from served import PATIENCE, TRAY, Told, asked, scene_of, serving, told

BROKEN = TRAY.replace("board base of ply12", "board base ply12")


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "tray.dry"
    path.write_text(TRAY)
    return path


@pytest.fixture
def page(design: Path) -> Iterator[Opened]:
    with serving(design) as made:
        yield made


@pytest.fixture
def news(page: Opened) -> Iterator[Told]:
    with told(page) as made:
        made.checked_scene(page)
        yield made


def width_of_base(page: Opened) -> float:
    return float(scene_of(page)["boards"][1]["size_mm"][0])


def test_a_save_changes_the_picture_then_the_checks_follow(
    page: Opened, news: Told, design: Path
) -> None:
    before = asked(page, "scene.glb")[1]
    design.write_text(TRAY.replace("200mm", "300mm"))
    while width_of_base(page) != 292:
        news.until("scene")
    assert asked(page, "scene.glb")[1] != before
    scene = scene_of(page)
    scene = scene if scene["checked"] else news.checked_scene(page)
    assert scene["steps"]
    assert all(board["profile_svg"] for board in scene["boards"])


def test_numbers_of_scenes_rise(page: Opened, news: Told, design: Path) -> None:
    numbers = []
    for width in (300, 310, 320):
        design.write_text(TRAY.replace("200mm", f"{width}mm"))
        while width_of_base(page) != width - 8:
            numbers.append(news.until("scene")["number"])
    assert len(numbers) >= 3
    assert numbers == sorted(set(numbers))


def test_broken_text_is_told_over_the_last_picture_until_it_is_mended(
    page: Opened, news: Told, design: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    scene, piece = asked(page, "scene.json")[1], asked(page, "scene.glb")[1]
    design.write_text(BROKEN)
    messages = news.until("findings")["findings"]
    jsonschema.validate(messages, MESSAGES)
    assert (asked(page, "scene.json")[1], asked(page, "scene.glb")[1]) == (scene, piece)

    assert main(["check", str(design)]) == 1
    printed = capsys.readouterr().out
    assert messages
    for message in messages:
        assert message["text"] in printed

    design.write_text(TRAY.replace("200mm", "300mm"))
    assert news.next() == ("mended", {})
    assert news.next()[0] == "scene"
    assert width_of_base(page) == 292


def test_a_page_opened_on_broken_text_is_told_so(page: Opened, news: Told, design: Path) -> None:
    design.write_text(BROKEN)
    wanted = news.until("findings")
    with told(page) as other:
        assert other.until("findings") == wanted


def test_a_design_broken_from_the_start_shows_what_there_is(tmp_path: Path) -> None:
    design = tmp_path / "tray.dry"
    design.write_text(BROKEN)
    with serving(design) as page:
        scene = scene_of(page)
        assert [board["name"] for board in scene["boards"]] == ["side"]
        with told(page) as news:
            assert news.until("findings")["findings"][0]["code"]
            design.write_text(TRAY)
            assert news.until("mended") == {}
            assert [b["name"] for b in news.checked_scene(page)["boards"]] == ["side", "base"]


def test_an_empty_file_and_one_of_no_text_show_an_empty_piece(tmp_path: Path) -> None:
    for content in (b"", b"\xff\xfe\x00\x00", b"\x00" * 100):
        design = tmp_path / "tray.dry"
        design.write_bytes(content)
        with serving(design) as page, told(page) as news:
            assert scene_of(page)["boards"] == []
            assert asked(page, "scene.glb")[1].startswith(b"glTF")
            assert news.until("findings")["findings"]


def test_findings_of_the_checks_belong_to_the_picture(
    page: Opened, news: Told, design: Path
) -> None:
    """An overlap is a finding about wood, not about the text: it is shown in the new picture."""
    design.write_text(TRAY.replace("join base into side with dado\n", ""))
    scene = news.checked_scene(page)
    while scene["joints"]:
        scene = news.checked_scene(page)
    assert [finding["code"] for finding in scene["findings"]] == ["F102"]
    assert scene["findings"][0]["boards"] == ["side", "base"]
    assert scene["steps"] == []


def test_a_file_taken_away_is_told_and_its_return_too(
    page: Opened, news: Told, design: Path
) -> None:
    design.unlink()
    (message,) = news.until("findings")["findings"]
    assert message["code"] is None
    assert message["title"].startswith(f"cannot read {design}")
    jsonschema.validate([message], MESSAGES)
    design.write_text(TRAY)
    assert news.until("mended") == {}


def test_a_used_file_counts_as_the_design(page: Opened, news: Told, design: Path) -> None:
    (design.parent / "sizes.dry").write_text("let wide = 200mm\n")
    with_use = TRAY.replace("8mm..200mm", "8mm..wide")
    design.write_text('use "sizes.dry"\n' + with_use)
    (design.parent / "sizes.dry").write_text("let wide = 250mm\n")
    while width_of_base(page) != 242:
        news.until("scene")
    (design.parent / "sizes.dry").write_text("let wide = \n")
    (message, *_) = news.until("findings")["findings"]
    assert message["place"]["file"].endswith("sizes.dry")


def test_what_was_missed_before_listening_comes_first(page: Opened, design: Path) -> None:
    scene_of(page)
    with told(page) as first:
        first.checked_scene(page)
        design.write_text(TRAY.replace("200mm", "300mm"))
        first.until("scene")
    with told(page) as late:
        assert late.next()[0] == "scene"


# -- inside ------------------------------------------------------------------------------------


def live_on(files: MemoryFiles) -> Live:
    live = Live(Looking(Request(file="tray.dry")))
    live.look(files)
    return live


def test_a_page_that_never_fetches_its_news_is_let_go() -> None:
    live = live_on(MemoryFiles({"tray.dry": TRAY}))
    with live.listening() as listener:
        assert listener is not None
        for _ in range(MOST_NEWS):
            live.look(MemoryFiles({"tray.dry": BROKEN}))
        waiting = [listener.get_nowait() for _ in range(listener.qsize())]
    live.close()
    assert len(waiting) <= MOST_NEWS
    assert waiting[-1] is None


def test_a_fault_of_ours_is_told_and_ends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("out of\nglue")

    live = Live(Looking(Request(file="tray.dry")))
    with live.listening() as listener:
        assert listener is not None
        with monkeypatch.context() as patch:
            patch.setattr(Looking, "worked", broken)
            live.look(MemoryFiles({"tray.dry": TRAY}))
            news = [listener.get(timeout=PATIENCE) for _ in range(2)]
        assert [one.kind for one in news if one] == ["scene", "findings"]
        assert news[1] is not None
        assert "RuntimeError: out of glue" in news[1].data
        live.look(MemoryFiles({"tray.dry": TRAY}))
        kinds = [getattr(listener.get(timeout=PATIENCE), "kind", None) for _ in range(3)]
        assert kinds == ["mended", "scene", "scene"]
    live.close()
