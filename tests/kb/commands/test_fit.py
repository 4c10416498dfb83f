"""`ohmfolio fit`: a printed table becomes a curve, its misprints are named, nothing is guessed."""

from __future__ import annotations

import json
import math
import re
import zipfile

import pytest
import yaml

from kb.check import check_notes
from kb.model import Curve
from kb.numbers.steinhart_hart import SteinhartHart

SPACE = "\u00a0"

# R25 10 kΩ, B 3977 K, as a data sheet prints it: four digits.
PRINTED = {
    -20: "107.1k",
    -10: "58.95k",
    0: "33.90k",
    10: "20.27k",
    20: "12.55k",
    25: "10.00k",
    30: "8.025k",
    40: "5.279k",
    50: "3.563k",
    60: "2.463k",
    70: "1.739k",
    80: "1.253k",
}


def csv(points, *, separator=",", head="t_c,r_ohm"):
    rows = [head.replace(",", separator), *(f"{t}{separator}{r}" for t, r in points.items())]
    return "\n".join(rows) + "\n"


@pytest.fixture
def file(tmp_path):
    """Return a function that writes a file of points and gives its path."""

    def written(text, *, encoding="utf-8"):
        path = tmp_path / "points.csv"
        path.write_bytes(text.encode(encoding))
        return path

    return written


@pytest.fixture
def fitted(run, file):
    """Return a function that fits a text and gives what `fit --json` says."""

    def told(text, *words, encoding="utf-8"):
        result = run("fit", file(text, encoding=encoding), "--json", *words)
        assert result.exit_code == 0, result.output
        return json.loads(result.output)

    return told


def test_the_table_here_is_the_b_value_law_rounded():
    # 10 kΩ exp(3977 (1/T − 1/298.15)), T = t + 273.15, to four digits.
    for t_c, printed in PRINTED.items():
        r_ohm = 10e3 * math.exp(3977 * (1 / (t_c + 273.15) - 1 / 298.15))
        assert float(f"{r_ohm:.3e}") == pytest.approx(float(printed[:-1]) * 1000)


def test_the_simplest_law_that_agrees_is_found_with_its_parameters(fitted):
    told = fitted(csv(PRINTED))
    keys = ["law", "parameters", "worst_k", "between_k", "met_exactly", "asked", "suspect"]
    assert list(told) == keys
    assert told["law"] == "beta"
    assert told["suspect"] == []
    assert told["parameters"]["r_ref"] == pytest.approx(10e3, rel=5e-4)
    assert told["parameters"]["b_k"] == pytest.approx(3977, rel=5e-4)
    # Half a digit of four is at most 0.05 % of R; in kelvin less than 0.0005 T²/B.
    assert told["worst_k"] < 0.0005 * 353.15**2 / 3977


@pytest.mark.parametrize(
    "text",
    [
        csv({t: r.replace(".", ",") for t, r in PRINTED.items()}, separator=";"),
        "\ufeff" + csv(PRINTED),
        "# maker's sheet\n\n" + csv(PRINTED, head="T_C,R_ohm").replace("\n0,", "\n\n# ice\n0,"),
        csv(PRINTED, separator="\t"),
        csv({f'"{t}"': f'"{r.replace(".", ",")}"' for t, r in PRINTED.items()}),
        csv({t: r[:-1].replace(".", "k") for t, r in PRINTED.items()}),
        csv(dict(reversed(PRINTED.items()))).replace("\n", "\r\n"),
        "r_ohm;t_c\n" + "".join(f"{r};{t}\n" for t, r in PRINTED.items()) + ";\n",
    ],
    ids=["decimal-comma", "bom", "comments", "tabs", "quoted", "letter", "crlf-falling", "swapped"],
)
def test_a_file_may_be_written_in_many_ways(fitted, text):
    assert fitted(text) == fitted(csv(PRINTED))


def test_temperatures_in_fahrenheit_are_understood(fitted):
    text = csv({f"{t * 9 / 5 + 32:g}F": r for t, r in PRINTED.items()})
    assert fitted(text)["parameters"]["b_k"] == pytest.approx(3977, rel=5e-4)


def test_a_digit_swapped_is_named_and_what_was_meant(run, file, fitted):
    text = csv(PRINTED | {40: "5.729k"})
    (one,) = fitted(text)["suspect"]
    assert (one["t_c"], one["r_ohm"], one["expected_ohm"]) == (40, 5729, 5279)
    # ln(5729/5279) over B/T² is 2.0 K cold.
    assert one["off_k"] == pytest.approx(-math.log(5729 / 5279) * 313.15**2 / 3977, abs=0.1)
    result = run("fit", file(text))
    assert result.output.replace(SPACE, " ") == (
        "The simplest law that agrees is beta (one B value): at most 0.010 K off, at 80.0 °C,\n"
        "within what 11 printed points can tell.\n"
        "\n"
        "r_ref  9999.67\n"
        "b_k    3976.858\n"
        "at_c   25\n"
        "\n"
        "Looks misprinted, and was left out:\n"
        "  40.0 °C: 5.729k is 2.0 K off; 5279 Ω would fit, one digit changed or two swapped\n"
        "\n"
        "It holds from −20.0 °C to 80.0 °C, the ends of the table, and nowhere else.\n"
    )


def test_a_law_that_was_asked_for_and_does_not_agree_is_told_so(run, file):
    # Not a B value's: twice as steep in the cold half.
    rows = {t: f"{10e3 * math.exp(-t / (20 if t < 0 else 40)):.4g}" for t in range(-40, 41, 8)}
    text = run("fit", file(csv(rows)), "--law", "beta").output.replace(SPACE, " ")
    assert text.startswith("Law beta (one B value) does not agree with the print of 11 points: at")
    assert " ".join(text.split()).endswith("and nowhere else. Try --law auto.")


def test_points_copied_too_coarsely_are_told_so(run, file):
    text = run("fit", file("t_c,r_ohm\n0,100\n50,119\n100,139\n")).output.replace(SPACE, " ")
    assert "That is coarse: copy every digit as printed, zeros too." in " ".join(text.split())


def test_points_of_no_formula_stand_themselves(run, file, fitted):
    rows = {t: f"{1000 + 7 * t + 0.03 * t * t:.0f}" for t in range(-40, 101, 10)}
    told = fitted(csv(rows))
    assert told["law"] == "table"
    assert told["worst_k"] == 0
    assert told["parameters"]["points"][4] == [0, 1000]
    assert run("fit", file(csv(rows))).output.startswith(
        "No formula agrees with the print, so the 15 points themselves stand.\n"
    )


def test_every_fault_of_the_file_is_told_at_once_with_its_place(run, file):
    path = file("t_c,r_ohm\n1,2,3\nwarm,5k\n5,12m\n6,0\n7,5k\n7,4k\n9\n")
    result = run("fit", path)
    assert result.exit_code == 1
    assert result.output == (
        f"{path}:2:1: row: 3 values where 2 are named\n"
        "    1,2,3\n"
        "    ^\n"
        "    hint: with decimal commas separate the columns by semicolons, or put 7,5 in quotes\n"
        "\n"
        f"{path}:3:1: t_c: 'warm' is not a temperature\n"
        "    warm,5k\n"
        "    ^\n"
        "    hint: write it as 7, -10, 7.5 or 45F\n"
        "\n"
        f"{path}:4:3: r_ohm: '12m' could be milliohms or megohms\n"
        "    5,12m\n"
        "      ^\n"
        "    hint: write M for megohms, or milliohms as 0R22\n"
        "\n"
        f"{path}:5:3: r_ohm: '0' is no resistance above zero\n"
        "    6,0\n"
        "      ^\n"
        "    hint: write the figure as it is printed, such as -7.5 or 5.00k; or take the row out\n"
        "\n"
        f"{path}:7:1: repeated: 7 °C stands here and on line 6\n"
        "    7,4k\n"
        "    ^\n"
        "    hint: keep one of the two\n"
        "\n"
        f"{path}:8:1: row: 1 values where 2 are named\n"
        "    9\n"
        "    ^\n"
        "    hint: the first line names t_c, r_ohm\n"
        "\n"
        "Mend that first; nothing was written.\n"
    )


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        (
            "25,10k\n30,8k\n",
            "1:1: columns: '25' is no column",
            "write the first line as t_c,r_ohm, or t_c;r_ohm with decimal commas",
        ),
        (
            "t_c,r_ohm,lowest,high_ohm\n",
            "1:11: columns: 'lowest' does not say its unit",
            "write low_ohm, low_kohm or low_Mohm",
        ),
        (
            "t_c,r_ohm,low_ohm\n",
            "1:1: columns: low_ohm and high_ohm go together",
            "give both columns, or neither",
        ),
        (
            "t_c\n25\n",
            "1:1: columns: the column 'r_ohm' is missing",
            "write the first line as t_c,r_ohm, or t_c;r_ohm with decimal commas",
        ),
        (
            "t_c,r_ohm,r_ohm\n",
            "1:11: columns: the column 'r_ohm' stands here twice",
            "keep one of the two",
        ),
        (
            "t_c,r_ohm,low_ohm,high_ohm\n25,10k,10.1k,10.2k\n30,8k,7k,9k\n",
            "2:4: row: 10k lies outside its low and high, 10.1k and 10.2k",
            "low, nominal, high rise",
        ),
        (
            "t_c,r_ohm\n25,10k\n",
            "2:1: no-points: fewer than two points make no curve",
            "give every row of the printed table",
        ),
        (
            "\n# nothing\n",
            "1:1: no-points: the file holds no points",
            "write the first line as t_c,r_ohm, or t_c;r_ohm with decimal commas",
        ),
    ],
)
def test_a_file_that_is_no_table_says_what_would_be(run, file, text, message, hint):
    path = file(text)
    result = run("fit", path)
    assert result.exit_code == 1
    first, *rest = result.output.splitlines()
    assert first == f"{path}:{message}"
    assert f"    hint: {hint}" in rest


def test_a_file_in_another_encoding_is_refused(run, file):
    path = file("t_c,r_ohm\n", encoding="utf-16")
    assert run("fit", path).output.startswith(
        f"{path}:1:1: encoding: the file is UTF-16, which some editors call 'Unicode', not UTF-8 text"
        "\n    hint: save it as UTF-8: in the editor 'Save as', and there the encoding UTF-8\n"
    )


def test_a_sheet_instead_of_a_table_is_named_and_how_to_save_it(run, tmp_path):
    path = tmp_path / "table.xlsx"
    with zipfile.ZipFile(path, "w") as sheet:
        sheet.writestr("xl/workbook.xml", "")
    assert run("fit", path).output.startswith(
        f"{path}:1:1: no-text: this is a sheet (.xlsx), and no plain text\n"
        "    hint: save the sheet as CSV: in its program 'Save as', there CSV with UTF-8\n"
    )


def test_faults_for_machines_are_problems(run, file):
    result = run("fit", file("t_c,r_ohm\n25,10m\n30,8k\n"), "--json")
    assert result.exit_code == 1
    (one,) = json.loads(result.output)["problems"]
    assert (one["line"], one["column"], one["rule"]) == (2, 4, "r_ohm")


@pytest.mark.parametrize(
    ("text", "words", "message"),
    [
        (
            csv(PRINTED),
            ["--law", "platinum"],
            "the points fall with temperature, and the law 'platinum' rises; use --law auto",
        ),
        (
            "t_c,r_ohm\n" + "".join(f"{t},1.00k\n" for t in range(0, 70, 10)),
            [],
            "resistance is the same at every temperature; no curve does that",
        ),
        (
            "t_c,r_ohm\n0,1.00k\n10,2.00k\n20,1.00k\n",
            [],
            "3 points do not make any law; give more points, or check that resistance only falls "
            "or only rises",
        ),
    ],
)
def test_what_no_law_fits_says_so(run, file, text, words, message):
    result = run("fit", file(text), *words)
    assert result.output == f"Error: {message}\n"
    assert result.exit_code == 1


WRITE = ["--write", "ntc-new", "--title", "It's new: 10k", "--source", "bench-sheet"]


def test_the_curve_lands_in_the_notes_as_a_draft_that_check_accepts(run, file, notes):
    result = run("fit", file(csv(PRINTED | {40: "5.729k"})), *WRITE, "--notes", notes)
    assert result.exit_code == 0
    assert result.output.endswith(
        "docs_data/curves/ntc-new.yaml is in the notes, as a draft.\n"
        "Next: add its tolerance, hold it against its source, and add 'checked'.\n"
    )
    written = (notes / "docs_data" / "curves" / "ntc-new.yaml").read_text(encoding="utf-8")
    # The last digits are the fit's own, and hang on the numpy that is there.
    assert re.sub(r"(\.\d{3})\d+", r"\1…", written) == (
        "name: 'It''s new: 10k'\n"
        "source: bench-sheet\n"
        "law: beta\n"
        "range_c: [-20, 80]\n"
        "r_ref: 9999.669…\n"
        "b_k: 3976.857…\n"
        "at_c: 25\n"
        "fitted_to:\n"
        + "".join(f"  {t}: {printed}\n" for t, printed in PRINTED.items() if t != 40)
        + "notes:\n"
        "- 'Fitted to 11 printed points from −20.0 °C to 80.0 °C; at most 0.010 K off, at 80.0 °C.'\n"
        "- 'Left out as misprinted: 5729 Ω at 40.0 °C, where 5279 Ω would fit.'\n"
    )
    checked = check_notes(notes)
    assert not [one for one in checked.problems if not one.warning]
    assert checked.of(Curve)["ntc-new"].draft
    told = json.loads(run("expect", "ntc-new", "--at", "40", "--json", "--notes", notes).output)
    assert told["points"][0]["r_ohm"] == pytest.approx(5279, rel=1e-3)


def test_a_note_says_what_a_few_rows_leave_open_between_them(run, file, notes):
    # Three rows 20 K apart of a law of two numbers: 1.5e-3 · 10² K, and 0.007 K at the worst row.
    few = {t: PRINTED[t] for t in (0, 20, 40)}
    assert run("fit", file(csv(few)), *WRITE, "--notes", notes).exit_code == 0
    written = (notes / "docs_data" / "curves" / "ntc-new.yaml").read_text(encoding="utf-8")
    assert "- 'Between them it may be 0.16 K off.'\n" in written


@pytest.mark.parametrize(
    ("law", "fields"),
    [
        ("platinum", {"r0": "1000"}),
        ("nickel", {"r0": "1000", "ppm_per_k": "6180"}),
        ("winding", {"at_c": "20", "constant": "225"}),
        ("steinhart-hart", {}),
        ("polynomial", {}),
        ("table", {}),
    ],
)
def test_every_law_is_written_so_that_check_accepts_it(run, file, notes, law, fields):
    points = {
        "platinum": {
            t: f"{1000 * (1 + 3.9083e-3 * t - 5.775e-7 * t * t):.2f}" for t in range(0, 121, 20)
        },
        "nickel": {
            t: f"{1000 * (1 + 5.485e-3 * t + 6.65e-6 * t**2 + 2.805e-11 * t**4 - 2e-17 * t**6):.1f}"
            for t in range(-40, 121, 20)
        },
        "steinhart-hart": {
            t: f"{SteinhartHart(a=1.12915e-3, b=2.34125e-4, c=8.7674e-8).r_ohm(t):.1f}"
            for t in range(-20, 81, 10)
        },
        "winding": {t: f"{12.5 * (225 + t) / 245:.4f}" for t in range(-20, 121, 20)},
    }.get(law, PRINTED)
    result = run("fit", file(csv(points)), "--law", law, *WRITE, "--notes", notes)
    assert result.exit_code == 0, result.output
    told = yaml.load(
        (notes / "docs_data" / "curves" / "ntc-new.yaml").read_text(), Loader=yaml.BaseLoader
    )
    assert told["law"] == law
    assert {name: told[name] for name in fields} == fields
    assert not [one for one in check_notes(notes).problems if not one.warning]
    t_c = list(points)[2]
    found = json.loads(run("expect", "ntc-new", "--at", t_c, "--json", "--notes", notes).output)
    printed = float(points[t_c].rstrip("k")) * (1000 if "k" in points[t_c] else 1)
    assert found["points"][0]["r_ohm"] == pytest.approx(printed, rel=1e-3)


def test_low_and_high_columns_are_kept_by_writing_the_table(run, file, notes):
    head = "t_c;r_ohm;low_ohm;high_ohm"
    rows = [f"{t};{r.replace('.', ',')};0,9k;999k" for t, r in PRINTED.items()]
    rows[3] = "10;20,27k;20,1k;20,4k"
    result = run("fit", file("\n".join([head, *rows]) + "\n"), *WRITE, "--notes", notes)
    assert result.exit_code == 1
    assert "the tolerance cannot hold" in result.output
    assert result.output.endswith("Mend that first; nothing was written.\n")
    assert not (notes / "docs_data" / "curves" / "ntc-new.yaml").exists()
    rows = [
        f"{t};{r.replace('.', ',')};{float(r[:-1]) * 0.98:.4g}k;{float(r[:-1]) * 1.02:.4g}k"
        for t, r in PRINTED.items()
    ]
    text = "\n".join([head, *rows]) + "\n"
    result = run("fit", file(text), *WRITE, "--notes", notes)
    assert result.exit_code == 0
    curve = check_notes(notes).of(Curve)["ntc-new"]
    assert curve.law == "table"
    assert (curve.points[5].low_ohm, curve.points[5].r_ohm, curve.points[5].high_ohm) == (
        9800,
        10000,
        10200,
    )
    assert curve.points[5].printed == "10,00k"


def test_as_many_points_as_numbers_are_said_to_be_met_and_no_fit(run, file, fitted):
    three = {t: PRINTED[t] for t in (0, 25, 50)}
    text = run("fit", file(csv(three)), "--law", "steinhart-hart").output.replace(SPACE, " ")
    assert text.startswith(
        "Law steinhart-hart (Steinhart–Hart, three coefficients) meets the 3 points exactly, as\n"
        "it meets any 3: that is no test of it. Give more points.\n"
    )
    assert text.endswith("Between the\npoints it may be 0.11 K off.\n")
    assert fitted(csv(three), "--law", "steinhart-hart")["met_exactly"]
    assert not fitted(csv(PRINTED))["met_exactly"]


def test_two_rows_of_what_rises_leave_open_what_lies_between(run, file, fitted):
    rows = csv({0: "815", 100: "1696"})
    assert "nobody can tell: give more rows" in " ".join(run("fit", file(rows)).output.split())
    assert fitted(rows)["between_k"] is None


def test_what_was_fitted_can_be_checked_again(run, file, notes):
    assert run("fit", file(csv(PRINTED)), *WRITE, "--notes", notes).exit_code == 0
    written = notes / "docs_data" / "curves" / "ntc-new.yaml"
    text = written.read_text(encoding="utf-8")
    assert not [one for one in check_notes(notes).problems if one.rule in ("fit", "misprint")]
    written.write_text(re.sub(r"b_k: 39", "b_k: 36", text), encoding="utf-8")
    (law_off,) = [one for one in check_notes(notes).problems if one.rule == "fit"]
    assert law_off.warning
    written.write_text(text.replace("5.279k", "5.729k"), encoding="utf-8")
    (row_off,) = [one for one in check_notes(notes).problems if one.rule == "misprint"]
    assert "5279 Ω would fit" in row_off.hint


def test_columns_that_a_formula_cannot_carry_are_said_to_stay_out(run, file, notes):
    rows = [f"{t},{r},{r},{r}" for t, r in PRINTED.items()]
    text = "\n".join(["t_c,r_ohm,low_ohm,high_ohm", *rows]) + "\n"
    result = run("fit", file(text), "--law", "beta", *WRITE, "--notes", notes)
    assert result.output.endswith(
        "Its low and high columns stayed out: only a table carries them.\n"
    )


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (
            ["--write", "table-ten", "--title", "x", "--source", "bench-sheet"],
            "there is a curve 'table-ten' already, and nothing is written over; choose another id",
        ),
        (
            ["--write", "My Curve", "--title", "x", "--source", "bench-sheet"],
            "'My Curve' cannot be an id; use small letters, digits and single hyphens",
        ),
        (
            ["--write", "ntc-new", "--source", "bench-sheet"],
            '--write needs the curve\'s name: --title "NTC 10k, B 3435"',
        ),
        (
            ["--write", "ntc-new", "--title", "x"],
            "--write needs to know where the points come from: --source ID; there is: "
            "bench-measured, bench-sheet, habit",
        ),
        (
            ["--write", "ntc-new", "--title", "x", "--source", "bench-shet"],
            "there is no source 'bench-shet'; did you mean 'bench-sheet'?",
        ),
    ],
)
def test_nothing_is_written_without_what_an_entry_needs(run, file, notes, words, message):
    before = sorted(path.name for path in (notes / "docs_data" / "curves").iterdir())
    result = run("fit", file(csv(PRINTED)), *words, "--notes", notes)
    assert result.output == f"Error: {message}\n"
    assert result.exit_code == 2
    assert sorted(path.name for path in (notes / "docs_data" / "curves").iterdir()) == before


def test_an_entry_that_check_would_refuse_is_shown_and_not_written(run, file, notes):
    words = ["--write", "ntc-new", "--title", "x", "--source", "habit"]
    result = run("fit", file(csv(PRINTED)), *words, "--notes", notes)
    assert result.exit_code == 1
    assert result.output.startswith(
        "docs_data/curves/ntc-new.yaml:2:9: no-origin: a curve needs a publication or a "
        "measurement, and this one has common practice only\n"
        "    source: habit\n"
        "            ^\n"
    )
    assert result.output.endswith("Mend that first; nothing was written.\n")
    assert not (notes / "docs_data" / "curves" / "ntc-new.yaml").exists()


def test_a_fault_elsewhere_in_the_notes_does_not_stop_it(run, file, notes):
    (notes / "docs_data" / "curves" / "beta-ten.yaml").write_text("name: 'open")
    result = run("fit", file(csv(PRINTED)), *WRITE, "--notes", notes)
    assert result.exit_code == 0


def test_without_write_no_notes_are_needed(run, file, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    assert run("fit", file(csv(PRINTED))).exit_code == 0
    result = run("fit", file(csv(PRINTED)), "--title", "x")
    assert result.exit_code == 2
    assert result.output.endswith("Error: --title, --source and --notes go with --write ID\n")


def test_a_file_that_is_not_there_is_named(run, tmp_path):
    path = tmp_path / "none.csv"
    result = run("fit", path)
    assert result.output == (
        f"Error: {path} cannot be read: No such file or directory; name the file that holds the "
        "points\n"
    )
    assert result.exit_code == 2
