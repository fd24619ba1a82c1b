"""The command line: every answer in words or JSON, every fault one sentence, never a traceback."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from benchconsole import bootstrap
from benchconsole.cli import main
from benchconsole.library import shipped_library
from benchconsole.model.events import ShopSet
from benchconsole.model.shop import Shop
from benchconsole.store import TinyRepository

Run = Callable[..., tuple[int, str, str]]
COMMANDS = (
    (),
    ("restore",),
    ("check",),
    ("demo",),
    ("today",),
    ("calendar",),
    ("drying",),
    ("start",),
    ("mix",),
    ("sum",),
)


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the command line in this process; its exit code, output and complaints."""
    monkeypatch.setenv("BENCHCONSOLE_STORE", str(tmp_path / "none" / "shop.json"))
    capsys.readouterr()

    def run_it(*words: str) -> tuple[int, str, str]:
        code = main(words)
        return (code, *capsys.readouterr())

    return run_it


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo shop in a file."""
    path = tmp_path_factory.mktemp("demo") / "shop.json"
    bootstrap.fill_demo(path)
    return path


def in_a_process(
    *words: str | bytes, stdout: Any = subprocess.PIPE, env: dict[str, str] | None = None
) -> subprocess.CompletedProcess[bytes]:
    """The command line as a person starts it."""
    return subprocess.run(
        [sys.executable, "-m", "benchconsole", *words],
        env={**os.environ, "BENCHCONSOLE_STORE": "/nowhere/shop.json", **(env or {})},
        stdin=subprocess.DEVNULL,
        stdout=stdout,
        stderr=subprocess.PIPE,
        check=False,
        timeout=60,
    )


# --- help and version -----------------------------------------------------------------


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_every_command_explains_itself(run: Run, command: tuple[str, ...]) -> None:
    """--help ends well, names the command and says something of every option."""
    code, out, err = run(*command, "--help")
    assert (0, "") == (code, err)
    assert out.startswith(" ".join(["usage: benchconsole", *command]))
    assert "--help" in out


def test_the_version_is_told(run: Run) -> None:
    """One line, name and number."""
    code, out, err = run("--version")
    assert (0, "") == (code, err)
    assert out.startswith("benchconsole ")
    assert 1 == out.count("\n")


# --- today ----------------------------------------------------------------------------


def test_today_lists_every_hide(run: Run, demo: Path) -> None:
    """All hides of the demo, in words and in JSON; the option works before the command too."""
    names = [
        "Grey rabbits",
        "Brown goat",
        "Black kid",
        "White kid",
        "Roe doe",
        "Red calf",
        "Autumn buck",
    ]
    code, out, err = run("today", "--store", str(demo))
    assert (0, "") == (code, err)
    places = [out.index(name) for name in [*names, "Spotted goat"]]
    assert sorted(places) == places
    code, out, err = run("--store", str(demo), "today", "--json")
    assert (0, "") == (code, err)
    document = json.loads(out)
    assert "benchconsole.daysheet/1" == document["schema"]
    assert names == [action["name"] for action in document["actions"]]


def test_the_plan_of_the_shop(run: Run, demo: Path) -> None:
    """Day by day with reasons, and as JSON; “today” has the coming week of it in short."""
    code, told, err = run("plan", "--store", str(demo), "--days", "3")
    assert (0, "") == (code, err)
    assert "PAST THE LATEST TIME" in told
    assert told.index("TODAY, ") < told.index("TOMORROW, ")
    assert "moved: " in told
    assert "Grey rabbits, Flesh and wash: begin" in told
    code, out, _ = run("plan", "--store", str(demo), "--json")
    document = json.loads(out)
    assert (0, "benchconsole.plan/1") == (code, document["schema"])
    assert {each["hide"] for each in document["visits"]} >= {"grey-rabbits", "autumn-buck"}
    code, out, _ = run("today", "--store", str(demo))
    assert out.index("FINISHED") < out.index("The plan of the coming week")
    assert "moved: " not in out.partition("TODAY, ")[2]
    code, out, err = run("plan", "--store", str(demo), "--days", "none")
    assert (code, out) == (2, "")
    assert "days" in err


def test_today_at_another_time(run: Run, demo: Path) -> None:
    """Long after, everything is late, and the sheet is of that day."""
    code, out, err = run("today", "--store", str(demo), "--at", "2999-01-01T08:00Z", "--json")
    assert (0, "") == (code, err)
    document = json.loads(out)
    assert document["now"].startswith(("2998-12-31", "2999-01-01"))
    assert {"overdue"} == {action["state"] for action in document["actions"]}


def test_today_at_an_earlier_time(run: Run, demo: Path) -> None:
    """Hides that came later are not there yet; the day sheet is as it stood that day."""
    code, out, err = run("today", "--store", str(demo), "--at", "1999-01-01", "--json")
    assert (0, "") == (code, err)
    document = json.loads(out)
    assert ([], []) == (document["actions"], document["finished"])
    assert document["now"].startswith("1999-01-01T00:00:00")


def test_the_drying_of_a_hide(run: Run, demo: Path) -> None:
    """In words and as JSON; a hide in a bath and one that is not there are told in a sentence."""
    code, told, _ = run("--store", str(demo), "drying", "white-kid")
    assert code == 0
    assert "White kid: Dry slowly and break" in told
    assert "To be softened: from about" in told
    assert "Weighings that count:" in told
    code, told, _ = run("--store", str(demo), "drying", "white-kid", "--json")
    document = json.loads(told)
    assert (0, "benchconsole.drying/1") == (code, document["schema"])
    assert 3 == len(document["weighings"])
    for hide, said in (
        ("brown-goat", "in no stage that dries it"),
        ("nobody", "No hide is called"),
    ):
        code, told, fault = run("--store", str(demo), "drying", hide)
        assert (2, "") == (code, told)
        assert said in fault


def test_when_to_begin_a_hide(run: Run, demo: Path) -> None:
    """The days with a mark and a word each, and what would follow; nothing is chosen by it."""
    before = demo.read_bytes()
    code, told, _ = run("--store", str(demo), "start", "autumn-buck")
    assert code == 0
    assert "Autumn buck: when to begin “Soak”, planned " in told
    days = [line for line in told.splitlines() if line.startswith("  ") and ", done " in line]
    assert all(line.strip()[0] in "✓~▲" for line in days)
    assert len(days) > 7
    assert "Rinse and neutralise: begin" in told
    assert demo.read_bytes() == before
    for hide, said in (
        ("red-calf", "there is no stage to begin"),
        ("nobody", "No hide is called"),
    ):
        code, told, fault = run("--store", str(demo), "start", hide)
        assert (2, "") == (code, told)
        assert said in fault


def test_a_folder_means_the_store_in_it(run: Run, demo: Path) -> None:
    """Naming the folder is enough."""
    assert "Brown goat" in run("today", "--store", str(demo.parent))[1]


def test_an_empty_shop_is_no_fault(run: Run, tmp_path: Path) -> None:
    """Without a store there are no hides; one that was named and is not there is told."""
    assert (0, "") == run("today")[::2]
    code, out, err = run("today", "--store", str(tmp_path / "typo.json"))
    assert 0 == code
    assert "No hides yet" in out
    assert "there is no store at" in err


# --- mix ------------------------------------------------------------------------------


@pytest.mark.parametrize("formula", sorted(shipped_library().formulas))
def test_every_formula_is_printed_as_written(run: Run, formula: str) -> None:
    """No target means the recipe itself; the JSON says the same factor."""
    code, out, err = run("mix", formula)
    assert (0, "") == (code, err)
    assert "as written" in out.splitlines()[0]
    document = json.loads(run("mix", formula, "--json")[1])
    assert ("benchconsole.worksheet/1", formula, 1.0) == (
        document["schema"],
        document["formula"],
        document["factor"],
    )


@pytest.mark.parametrize(
    ("options", "target", "factor"),
    [
        (["--make", "6 gal"], "make 6 US gal", 1.16427),
        (["--times", "1/2"], "0.5 times the recipe", 0.5),
        (["--hide-mass", "3.2 kg", "--float", "6 L/kg"], "for 7 lb", 0.98427),
        (["--hides", "3", "--species", "Deer"], "for 3 hides (deer)", 3.0),
        (["--hides", "2"], "for 2 hides", 2.0),
        (["--limit", "potassium-alum=14 oz"], "as much as 14 oz of potassium-alum", 0.875),
    ],
)
def test_every_target_can_be_asked_for(
    run: Run, options: list[str], target: str, factor: float
) -> None:
    """The alum bath by each of the five targets."""
    code, out, err = run("mix", "alum-salt-bath", *options, "--water-temp", "12 C", "--json")
    assert (0, "") == (code, err)
    document = json.loads(out)
    assert document["target"].startswith(target)
    assert factor == pytest.approx(document["factor"], rel=1e-3)


def test_measures_and_water_are_for_this_once(run: Run) -> None:
    """Imperial gallons are larger, and the checks go by the water that was named."""
    us = json.loads(run("mix", "borax-rinse", "--make", "1 gal", "--json")[1])
    imperial = json.loads(
        run("mix", "borax-rinse", "--make", "1 gal", "--measures", "imperial", "--json")[1]
    )
    assert 1.20095 == pytest.approx(imperial["liquor"]["volume_l"] / us["liquor"]["volume_l"])
    warm = json.loads(run("mix", "alum-salt-bath", "--water-temp", "104F", "--json")[1])
    assert 40.0 == pytest.approx(warm["water_celsius"])
    assert all(check["ok"] for check in warm["checks"] if check["code"] == "dissolves")


def test_another_substance_is_taken(run: Run) -> None:
    """--use swaps one that the formula allows."""
    out = run("mix", "alum-salt-bath", "--use", "potassium-alum")[1]
    assert "potassium alum" in out


# --- what cannot be -------------------------------------------------------------------

FAULTS: dict[str, tuple[list[str], str]] = {
    "unknown command": (["taday"], "taday"),
    "unknown option": (["today", "--colour"], "--colour"),
    "shortened option": (["today", "--js"], "--js"),
    "no formula": (["mix"], "FORMULA"),
    "near formula": (["mix", "alum-salt-bat"], "the nearest is alum-salt-bath"),
    "far formula": (["mix", "xyzzy"], "“xyzzy”; there is "),
    "empty formula": (["mix", ""], "No formula is called “”"),
    "formula as a path": (["mix", "../../etc/passwd"], "No formula"),
    "long formula": (["mix", "x" * 100_000], "No formula"),
    "control characters": (["mix", "a\x1b[31m\nb"], "a·[31m·b"),
    "half a character": (["mix", "alum\udcff"], "alum·"),
    "option with half a character": (["mix", "--\udcff", "borax-rinse"], "--·"),
    "no unit": (["mix", "alum-salt-bath", "--make", "6"], "make: "),
    "nothing": (["mix", "alum-salt-bath", "--make", ""], "make: "),
    "weight for volume": (["mix", "alum-salt-bath", "--make", "6 lb"], "make: "),
    "below nothing": (["mix", "alum-salt-bath", "--make=-6 gal"], "make: "),
    "no number": (["mix", "alum-salt-bath", "--times", "nan"], "times: "),
    "endless": (["mix", "alum-salt-bath", "--times", "1e999"], "times: "),
    "by nothing": (["mix", "alum-salt-bath", "--times", "1/0"], "times: "),
    "half a hide": (["mix", "alum-salt-bath", "--hides", "1.5"], "hides: "),
    "unknown species": (
        ["mix", "alum-salt-bath", "--hides", "1", "--species", "unicorn"],
        "unicorn",
    ),
    "limit of another": (["mix", "alum-salt-bath", "--limit", "borax=1 lb"], "borax"),
    "limit of nothing": (["mix", "alum-salt-bath", "--limit", "=1 lb"], "limit: "),
    "limit of no amount": (["mix", "alum-salt-bath", "--limit", "salt"], "limit: "),
    "dry by volume": (["mix", "salt-cure", "--make", "1 gal"], "salt-cure is dry"),
    "two targets": (
        ["mix", "alum-salt-bath", "--make", "6 gal", "--times", "2"],
        "not allowed with",
    ),
    "float alone": (["mix", "alum-salt-bath", "--float", "6 L/kg"], "only goes with --hide-mass"),
    "float with times": (
        ["mix", "alum-salt-bath", "--times", "2", "--float", "6 L/kg"],
        "only goes with --hide-mass",
    ),
    "empty float": (["mix", "alum-salt-bath", "--hide-mass", "3 kg", "--float", " "], "is empty"),
    "no float": (["mix", "alum-salt-bath", "--hide-mass", "3 kg", "--float", "much"], "float: "),
    "species alone": (["mix", "alum-salt-bath", "--species", "deer"], "only goes with --hides"),
    "empty species": (["mix", "alum-salt-bath", "--hides", "1", "--species", ""], "is empty"),
    "unknown swap": (["mix", "alum-salt-bath", "--use", "sand"], "sand"),
    "empty swap": (["mix", "alum-salt-bath", "--use", ""], "ingredient: "),
    "steam": (["mix", "alum-salt-bath", "--water-temp", "300 C"], "water temperature: "),
    "bare degrees": (["mix", "alum-salt-bath", "--water-temp", "12"], "water temperature: "),
    "unknown measures": (["mix", "alum-salt-bath", "--measures", "cubit"], "cubit"),
    "near sum": (["sum", "rinse-sal"], "the nearest is rinse-salt"),
    "sum without a unit": (["sum", "rinse-salt", "rinse-water=40"], "rinse water: "),
    "sum with a wrong field": (["sum", "rinse-salt", "water=40 L"], "rinse-water"),
    "sum with half a pair": (["sum", "rinse-salt", "40 L"], "is not field=value"),
    "sum beyond the law": (
        [
            "sum",
            "pickle-ph",
            "which-acid=formic",
            "acid-strength=85",
            "acid-amount=9 kg",
            "salt=2 kg",
            "volume=20 L",
            "temperature=18 C",
        ],
        "acid amount: ",
    ),
    "no time": (["today", "--at", "noon"], "at: “noon” is not a date with a time, a date, or"),
    "half a date": (["today", "--at", "2026"], "at: “2026” is not a date with a time"),
    "far year": (["today", "--at", "0001-01-01"], "at: the year 1 is too far off"),
    "empty store": (["today", "--store", ""], "store: it is empty"),
    "store with a zero": (["today", "--store", "a\0b"], "store: it holds a control character"),
    "store of nobody": (["today", "--store", "~nobody-there/shop.json"], "store: nobody here"),
    "demo with a store": (["demo", "--store", "x"], "--store"),
    "store before demo": (["--store", "x", "demo"], "the demo has a store of its own"),
    "no terminal": ([], "needs a terminal"),
    "demo without terminal": (["demo"], "needs a terminal"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_bad_input_is_one_sentence_and_exit_2(run: Run, fault: str) -> None:
    """Nothing on standard output, one line that says what is wrong, and no traceback."""
    words, said = FAULTS[fault]
    code, out, err = run(*words)
    assert (2, "") == (code, out)
    assert said in err
    assert err.startswith("benchconsole")
    assert err.endswith(".\n")
    assert 1 == err.count("\n")


def test_sums_are_listed_explained_and_answered(run: Run) -> None:
    """Without a name the list, with one what it asks for, with fields the answer; or JSON."""
    code, listed, _ = run("sum")
    assert (0, True) == (code, "rinse-salt" in listed)
    code, explained, _ = run("sum", "rinse-salt")
    assert (0, True) == (code, "rinse-water" in explained)
    asked = ("sum", "rinse-salt", "rinse-water=40 L", "--measures", "metric")
    code, answered, _ = run(*asked)
    assert (0, True) == (code, "1200 g of salt" in answered)
    code, document, _ = run(*asked, "--json")
    assert (0, "rinse-salt") == (code, json.loads(document)["sum"])
    code, document, _ = run("sum", "--json")
    assert (0, True) == (code, len(json.loads(document)["sums"]) > 20)


def test_a_sum_knows_the_shops_own_substances(run: Run, tmp_path: Path) -> None:
    """A substance in a file beside the store is one that a sum can be asked about."""
    folder = tmp_path / "substances"
    folder.mkdir()
    (folder / "lye.toml").write_text(
        '[[substance]]\nid = "own-lye"\nname = "own lye"\nform = "solid"\n'
        'groups = ["alkali", "strong-alkali"]\n'
    )
    asked = ("sum", "neighbours", "these=own lye, salt", "vessel-made-of=aluminium")
    code, answered, err = run(*asked, "--store", str(tmp_path))
    assert (0, True) == (code, "Never: A vessel of aluminium" in answered), err
    assert 2 == run(*asked)[0]


def test_a_store_that_is_no_store_is_exit_3(run: Run, tmp_path: Path) -> None:
    """Damage, a foreign file, a file for a folder: one sentence, and all is left as it is."""
    for name, body in {
        "cut.json": '{"history": {"1"',
        "other.json": "[]",
    }.items():
        path = tmp_path / name
        path.write_text(body)
        code, out, err = run("today", "--store", str(path))
        assert (3, "", 1) == (code, out, err.count("\n"))
        assert name in err
        assert body == path.read_text()
    under = tmp_path / "cut.json" / "x" / "shop.json"
    assert 3 == run("today", "--store", str(under))[0]
    assert 3 == run("mix", "borax-rinse", "--store", str(under))[0]
    assert 3 == run("today", "--store", str(tmp_path / ("x" * 300)))[0]


def test_a_folder_that_may_not_be_read(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the system refuses is told in a sentence; a fake refusal, since root is refused none."""
    locked = tmp_path / "locked"

    def refuse(path: Path) -> bool:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "is_dir", refuse)
    code, out, err = run("today", "--store", str(locked))
    assert (3, "") == (code, out)
    assert "cannot be reached: this user may not use it." in err


# --- a person's own files -------------------------------------------------------------


def test_a_broken_file_is_named_and_the_rest_works(run: Run, tmp_path: Path) -> None:
    """Name, line and reason once on standard error; the worksheet is printed all the same."""
    folder = tmp_path / "formulas"
    folder.mkdir()
    (folder / "mine.toml").write_text('[formula]\nid = "mine"\nname = [')
    code, out, err = run("mix", "borax-rinse", "--store", str(tmp_path / "shop.json"))
    assert 0 == code
    assert out.startswith("Borax rinse")
    told = [line for line in err.splitlines() if "left out" in line]
    assert 1 == len(told)
    assert told[0].startswith("benchconsole: left out: formulas/mine.toml, line 3: ")
    err = run("today", "--at", "14:00", "--store", str(tmp_path / "shop.json"))[2]
    assert 1 == err.count("left out")


def test_a_zone_that_this_computer_lacks_is_told(run: Run, tmp_path: Path) -> None:
    """A store from elsewhere: the sheet is printed, and whose clock it goes by is said."""
    path = tmp_path / "shop.json"
    with TinyRepository(path, writing=True) as repository:
        now = datetime.now(UTC)
        repository.append([ShopSet(shop=Shop(zone="Not/There"))], at=now, recorded=now)
    code, _, err = run("today", "--store", str(path))
    assert (0, 1) == (code, err.count("\n"))
    assert "“Not/There” is not known on this computer" in err


# --- a reader leaves no trace ---------------------------------------------------------


def test_a_reader_makes_nothing(run: Run, tmp_path: Path) -> None:
    """Neither store, nor lock, nor folder comes of asking."""
    for words in (
        ["today"],
        ["today", "--json"],
        ["mix", "borax-rinse"],
        ["mix", "nope"],
        ["demo"],
    ):
        run(*words)
        run(*words, "--store", str(tmp_path / "a" / "b.json"))
    assert [] == list(tmp_path.iterdir())


def test_a_reader_changes_nothing(run: Run, demo: Path) -> None:
    """The store and what lies beside it are the same before and after."""

    def picture() -> list[tuple[str, int, bytes]]:
        files = [path for path in demo.parent.rglob("*") if path.is_file()]
        return [(path.name, path.stat().st_mtime_ns, path.read_bytes()) for path in sorted(files)]

    before = picture()
    run("today", "--store", str(demo))
    run("mix", "borax-rinse", "--store", str(demo))
    assert before == picture()


# --- the terminal ---------------------------------------------------------------------


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_a_terminal_with_few_letters_gets_the_rest(demo: Path, encoding: str) -> None:
    """▲ may become a question mark, but the word beside it stands, and JSON stays JSON."""
    environment = {"PYTHONIOENCODING": encoding, "BENCHCONSOLE_STORE": str(demo)}
    text = in_a_process("today", env=environment)
    assert (0, b"") == (text.returncode, text.stderr)
    assert b"OVERDUE" in text.stdout
    document = in_a_process("today", "--json", env=environment)
    actions = json.loads(document.stdout.decode(encoding))["actions"]
    assert 7 == len(actions)
    assert "“Second salting”" in actions[-1]["why"]


def test_bytes_that_are_no_text() -> None:
    """Arguments that are not UTF-8 are a sentence, not a traceback."""
    ended = in_a_process("mix", b"alum\xff\xfe", "--use", b"\xff")
    assert (2, b"") == (ended.returncode, ended.stdout)
    assert b"Traceback" not in ended.stderr
    assert "alum··".encode() in ended.stderr


def test_a_full_disk_under_the_output() -> None:
    """What cannot be written is told, once, in our own words."""
    with Path("/dev/full").open("wb") as full:
        ended = in_a_process("mix", "borax-rinse", stdout=full)
    assert 2 == ended.returncode
    assert b"benchconsole: The output cannot be written: no space left on device.\n" == ended.stderr


def test_a_reader_of_the_output_that_leaves() -> None:
    """head and less may go before the end; nobody needs to hear of it."""
    read_end, write_end = os.pipe()
    os.close(read_end)
    ended = in_a_process("mix", "borax-rinse", stdout=write_end)
    os.close(write_end)
    assert (0, b"") == (ended.returncode, ended.stderr)


def test_no_output_at_all(monkeypatch: pytest.MonkeyPatch) -> None:
    """Started with its streams closed it still ends with the right code."""
    monkeypatch.setenv("BENCHCONSOLE_STORE", "/nowhere/shop.json")
    monkeypatch.setattr(sys, "stdout", None)
    monkeypatch.setattr(sys, "stderr", None)
    assert [0, 2, 2] == [main(["mix", "borax-rinse"]), main(["mix", "nope"]), main([])]
