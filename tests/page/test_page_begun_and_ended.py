"""From the command line to the page and back: where it is served and to whom, what is kept for the next time, and
what becomes of the piece when it ends."""

from __future__ import annotations

import io
import json
import os
import socket
import threading
from email.message import Message
from pathlib import Path

import pytest
import segno

from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import open_plan
from companion.page import address
from companion.page.address import HERE, file_for, keep, kept, new_tokens
from companion.page.asked import let_in
from companion.page.server import PageServer
from companion.page.square_code import drawn, halves
from companion.page.start import knit, link, served, told
from companion.page.turns import Behind, Gone, Press, Turns
from companion.problems import Problems
from companion.progress.journal import Journal
from companion.progress.trouble import Trouble
from tests.dialogue.scenarios import BOLLARD
from tests.page.at_page import AtPage, page_of
from tests.page.browser import running
from tests.patience import PATIENCE
from tests.screens.at_the_needles import JUMPER, SWATCH, begun, on_disk, shelf, where
from tests.the_program import PIER_SIGN, run

NOT_OURS = "192.0.2.1"
"""An address that no computer has (RFC 5737)."""


# The command line


def test_a_page_is_served_where_it_is_asked_for_and_the_command_line_says_what_it_takes(tmp_path: Path) -> None:
    for words, message in (
        (["--lan", "127.0.0.1"], "--lan says where a page is served; --page serves one."),
        (["--page", "--plain"], "It is served as a page or told by lines, not both: --page or --plain."),
        (["--page", "--lan", "0.0.0.0"], "one address of this computer, such as 192.168.1.7, not \"0.0.0.0\"."),
        (["--page", "--lan", "255.255.255.255"], "such as 192.168.1.7, not \"255.255.255.255\"."),
        (["--page", "--lan", "fe80::1"], "such as 192.168.1.7, not \"fe80::1\"."),
        (["--page", "--lan", "::1%lo"], "such as 192.168.1.7, not \"::1%lo\"."),
        (["--page", "--lan", "harbour"], "one address of this computer, such as 192.168.1.7, not \"harbour\"."),
        (["--page", "--lan", NOT_OURS], f"This computer has not the address \"{NOT_OURS}\"."),
    ):
        ran = run(tmp_path, "knit", "swatch", *words)
        assert (ran.code, ran.out) == (2, "")
        assert message in ran.err
    torn = tmp_path / "torn.yaml"
    torn.write_text("plan: 1\n", encoding="utf-8")
    ran = run(tmp_path, "knit", "torn.yaml", "--page")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith('torn.yaml  The plan has no "title".')


def test_whom_it_is_served_to_is_said_plainly() -> None:
    with PageServer(HERE, 0, new_tokens(), Turns()) as server:
        tokens = server.house.tokens
        here, shared = told(server, is_shared=False), told(server, is_shared=True)
        press, look = (f"  http://127.0.0.1:{server.port}/?token={token}" for token in (tokens.press, tokens.look))
    assert here[0] == "Open this address in a browser on this computer:"
    assert (here[2], here[6], here[-1]) == (press, look, "Every step is saved. Ctrl-C stops.")
    assert shared[0] == "Open this address in a browser on this network:"
    assert (press in shared, look in shared) == (True, True)
    text = " ".join(shared)
    assert "It is plain http: others on this network may read along" in text
    assert "browsers let a tablet's screen go dark by itself" in text
    assert "plain http" not in " ".join(here)
    assert all(len(line) < 90 for line in shared)


class _Terminal(io.StringIO):
    encoding = "utf-8"

    def isatty(self) -> bool:
        return True


def test_the_address_is_a_square_code_on_a_terminal_alone() -> None:
    """Read back square by square, it is the code that the library makes of the address."""
    text = "http://192.168.1.7:40000/?token=0123456789abcdef0123456789abcdef"
    lines = drawn(text, _Terminal())
    squares = list[str]()
    for line in lines:
        assert line.startswith("\x1b[30;107m")
        assert line.endswith("\x1b[0m")
        inside = line.removeprefix("\x1b[30;107m").removesuffix("\x1b[0m")
        squares.append("".join("1" if half in "▀█" else "0" for half in inside))
        squares.append("".join("1" if half in "▄█" else "0" for half in inside))
    code = segno.make_qr(text, error="m")
    expected = ["".join(map(str, row)) for row in code.matrix]
    wide = len(expected[0]) + 8
    assert squares[:4] == ["0" * wide] * 4
    assert squares[4:4 + len(expected)] == [f"0000{row}0000" for row in expected]
    assert set("".join(squares[4 + len(expected):])) == {"0"}
    assert drawn(text, io.StringIO()) == []
    ascii_alone = _Terminal()
    ascii_alone.encoding = "ascii"  # type: ignore[misc]  # as a terminal without half blocks has it
    assert drawn(text, ascii_alone) == []
    assert halves([[True, False]]) == ["▀ "]


# What is kept for the next time


def test_tokens_and_port_are_kept_for_their_owner_alone(tmp_path: Path) -> None:
    file = file_for(tmp_path / "page", SWATCH, None, HERE)
    assert kept(file) != kept(file), "nobody can guess them"
    tokens = new_tokens()._replace(port=40_000)
    keep(file, tokens)
    assert kept(file) == tokens
    assert os.listdir(file.parent) == [file.name]
    if os.name == "posix":
        assert file.stat().st_mode & 0o777 == 0o600
        assert file.parent.stat().st_mode & 0o777 == 0o700
        for mode in (0o640, 0o604, 0o660):
            file.chmod(mode)
            assert kept(file).press != tokens.press
            file.chmod(0o600)
    assert kept(file) == tokens


@pytest.mark.parametrize("text", [
    "", "{", "[]", "null", "{}", '{"press": "a", "look": "b", "port": 1}',
    json.dumps({"press": "0" * 32, "look": "0" * 32, "port": 40_000}),
    json.dumps({"press": "0" * 32, "look": "1" * 32, "port": 0}),
    json.dumps({"press": "0" * 32, "look": "1" * 32, "port": True}),
    json.dumps({"press": "0" * 32, "look": "1" * 32, "port": 65_536}),
    json.dumps({"press": None, "look": "1" * 32, "port": 40_000}), "é", "[" * 900,
])
def test_a_damaged_file_of_tokens_is_none(tmp_path: Path, text: str) -> None:
    file = tmp_path / "page.json"
    file.write_text(text, encoding="utf-8")
    file.chmod(0o600)
    tokens = kept(file)
    assert tokens.port == 0
    assert len(tokens.press) == len(tokens.look) == 32
    assert tokens.press != tokens.look


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
def test_a_pipe_in_place_of_the_file_of_tokens_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(file := tmp_path / "page.json", 0o600)
    assert kept(file).port == 0
    keep(file, tokens := new_tokens()._replace(port=40_000))
    assert kept(file) == tokens


def test_each_plan_name_and_network_has_its_own(tmp_path: Path) -> None:
    files = {
        file_for(tmp_path, plan, name, host)
        for plan in (SWATCH, SWATCH.with_name("mat.yaml")) for name in (None, "For Ada") for host in (HERE, NOT_OURS)
    }
    assert len(files) == 8


def test_what_cannot_be_kept_is_no_trouble(tmp_path: Path) -> None:
    (tmp_path / "page").write_text("", encoding="utf-8")
    keep(tmp_path / "page" / "one.json", new_tokens())


def test_a_new_start_is_found_where_the_last_one_was_and_beside_a_running_one_it_is_another(tmp_path: Path) -> None:
    file = tmp_path / "page" / "one.json"
    with served(Turns(), file, HERE) as first:
        port, tokens = first.port, first.house.tokens
        assert (kept(file).port, kept(file).press) == (port, tokens.press)
        with served(Turns(), file, HERE) as beside:
            assert beside.port != port
            assert beside.house.tokens.press != tokens.press
        assert kept(file).port == port
    with served(Turns(), file, HERE) as again:
        assert (again.port, again.house.tokens.press, again.house.tokens.look) == (port, tokens.press, tokens.look)
    with pytest.raises(Problems, match="has not the address"):
        served(Turns(), tmp_path / "two.json", NOT_OURS)


@pytest.mark.skipif(not socket.has_ipv6, reason="no IPv6 here")
def test_it_is_served_at_addresses_of_both_kinds() -> None:
    try:
        server = PageServer("::1", 0, new_tokens(), Turns())
    except OSError:
        pytest.skip("no IPv6 here")
    with server:
        assert server.house.hosts == {f"[::1]:{server.port}", f"localhost:{server.port}"}
        assert told(server, is_shared=False)[2].startswith(f"  http://[::1]:{server.port}/?token=")


def test_a_piece_that_cannot_be_served_is_let_go_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    begun(tmp_path, row=21)
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path))
    with pytest.raises(Problems) as found:
        knit(SWATCH, lan=NOT_OURS)
    with shelf(tmp_path).resume("Harbour practice swatch") as after:
        assert not after.is_look_only, found


def test_each_part_has_its_own_picture_and_a_page_may_be_looked_at_alone(tmp_path: Path) -> None:
    with page_of(tmp_path, JUMPER) as page:
        pictures = [page.ask("GET", f"/chart?part={part}").body for part in (0, 1, 0, 2)]
        assert pictures[0] == pictures[2]
        assert len(set(pictures)) == 3
        assert b'data-role="look" data-may="press"' in page.ask("GET", "/?view").body
        assert b'data-role="press" data-may="press"' in page.ask("GET", "/").body


def test_a_picture_is_asked_for_anew_when_another_piece_is_opened_or_its_plan_is_another(tmp_path: Path) -> None:
    plan = tmp_path / "pier.yaml"
    plan.write_text(PIER_SIGN, encoding="utf-8")
    with page_of(tmp_path, plan) as page:
        drawn_as = page.state["drawn"]
        assert drawn_as.endswith("-1")
        page.press(deed="on")
        assert page.state["drawn"] == drawn_as


def test_a_picture_is_asked_for_anew_when_strands_meet_elsewhere(tmp_path: Path) -> None:
    """In the middle of a shared run the strand that began it goes on with it: in row 13 nobody meets any more."""
    begun(tmp_path, BOLLARD, 12, 1)
    with page_of(tmp_path, BOLLARD) as page:
        drawn_as, picture = page.state["drawn"], page.ask("GET", "/chart?part=0").body
        page.press(deed="note")
        page.press(answer="foggy")
        assert page.state["drawn"] == drawn_as
        page.press(deed="happened")
        page.press(answer=5)
        assert page.state["drawn"] != drawn_as
        assert page.ask("GET", "/chart?part=0").body != picture


def test_what_a_token_lets_one_do() -> None:
    tokens = new_tokens()
    assert (tokens.role(tokens.press), tokens.role(tokens.look)) == ("press", "look")
    assert {tokens.role(one) for one in ("", "é\udcff", tokens.press[:-1], tokens.press + "0")} == {None}
    assert address.in_address("::1") == "[::1]"


# While it lasts


def test_a_step_is_saved_before_any_page_is_told_of_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    begun(tmp_path, row=21)
    with page_of(tmp_path) as page:
        news = page.listen()
        assert next(news)["seen"] == page.state["seen"]
        append, steps = Journal.append, list[str]()

        def slowly(*given: object) -> None:
            assert page.server.turns.state.seen == page.state["seen"], "it is not told before it is saved"
            append(*given)  # type: ignore[arg-type]  # handed on as it came
            steps.append("saved")

        monkeypatch.setattr(Journal, "append", slowly)
        page.press(deed="on")
        told_of = next(news)
        assert steps == ["saved"]
        assert (told_of["seen"], where(on_disk(tmp_path))) == (page.state["seen"], (21, 1))
        news.close()  # type: ignore[attr-defined]  # it is a generator


def test_every_page_is_told_every_step_and_the_end(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    with page_of(tmp_path) as page:
        several = [page.listen() for _ in range(3)]
        for news in several:
            assert next(news) == page.state
        for deed in ("on", "ends", "leave", "back", "quit"):
            page.press(deed=deed)
            assert [next(news) for news in several] == [page.state] * 3
        if page.asked:
            page.press(answer=True)
        for news in several:
            *_, last = news
            assert last["over"] == "Stopped here. Everything is saved."
        answer = page.post({"seen": page.state["seen"], "deed": "on"})
        assert (answer.status, answer.body) == (410, b"The piece is left; everything is saved.\n")


def test_a_page_that_looks_only_follows_what_another_window_does(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    with page_of(tmp_path) as page, page_of(tmp_path) as beside:
        news = beside.listen()
        assert next(news)["work"]["look_only"] == "Look only"
        page.press(deed="on")
        told_of = next(news)
        assert told_of["work"]["sentence"] == page.state["work"]["sentence"]
        assert told_of["work"]["look_only"] == "Look only"
        news.close()  # type: ignore[attr-defined]  # it is a generator


def test_the_piece_is_held_as_long_as_it_is_served_and_free_after_it(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    with page_of(tmp_path):
        assert shelf(tmp_path).resume("Harbour practice swatch").is_look_only
    with shelf(tmp_path).resume("Harbour practice swatch") as after:
        assert not after.is_look_only


def test_ctrl_c_ends_it_quietly_and_the_same_cookie_opens_the_next_one(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    with running(tmp_path, str(SWATCH)) as program:
        page = AtPage.at(program.link)
        page.press(deed="on")
        code, out, err = program.interrupt()
    assert (code, out.splitlines()[-1], err) == (0, "Stopped here. Everything is saved.", "")
    with shelf(tmp_path).resume("Harbour practice swatch") as left:
        assert (left.is_look_only, where(left.session)) == (False, (21, 1))
    with served(Turns(), file_for(tmp_path / "page", SWATCH, None, HERE), HERE) as again:
        assert (again.port, link(again, again.house.tokens.press)) == (page.port, program.link)
        headers = Message()
        headers["Host"], headers["Cookie"] = page.host, page.cookie
        assert let_in("GET", "/news", headers, again.house).role == "press"


def test_where_the_machine_fails_pages_are_told_that_it_is_over_and_the_command_line_why(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    turns, knitter, raised = Turns(), Knitter(), list[BaseException]()

    def first() -> None:
        def failing(_: object) -> None:
            raise Trouble("disk", tmp_path)

        knitter.deeds = tuple(
            deed._replace(does=failing) if deed.name == "why" else deed for deed in knitter.deeds
        )
        try:
            turns.run(knitter, open_plan(knitter, shelf(tmp_path), SWATCH))
        except Trouble as trouble:
            raised.append(trouble)

    with PageServer(HERE, 0, new_tokens(), turns) as server:
        threads = threading.Thread(target=first), threading.Thread(target=server.serve_forever, args=(0.02,))
        for thread in threads:
            thread.start()
        page = AtPage.of(server)
        assert page.post({"seen": page.state["seen"], "deed": "why"}).status == 410
        server.shutdown()
        for thread in threads:
            thread.join(PATIENCE)
    assert len(raised) == 1
    with pytest.raises(Gone):
        turns.press(Press("", "on"))
    with shelf(tmp_path).resume("Harbour practice swatch") as after:
        assert not after.is_look_only


def test_what_is_pressed_before_the_piece_is_open_is_behind(tmp_path: Path) -> None:
    turns, knitter = Turns(), Knitter()
    found = list[BaseException]()

    def early() -> None:
        try:
            turns.press(Press("", "on"))
        except Behind as behind:
            found.append(behind)

    pressing = threading.Thread(target=early)
    pressing.start()
    opening = threading.Thread(target=lambda: turns.run(knitter, open_plan(knitter, shelf(tmp_path), SWATCH)))
    opening.start()
    pressing.join(PATIENCE)
    turns.stop()
    opening.join(PATIENCE)
    assert len(found) == 1
    assert turns.after(turns.state.seen, 0) is None
