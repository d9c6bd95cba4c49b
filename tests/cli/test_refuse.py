"""Hostile and clumsy files: exit code 2 and one clear message on the error stream, never a traceback."""

import os
import subprocess
import sys

import pytest
from job_files import put, saved, starting, starting_text
from runs import START, ampwright, refused

START_BYTES = starting_text().encode()

# what the file holds, what is said
FILES = {
    "syntax.toml": (START_BYTES + b"\na = = 3\n", "not valid TOML"),
    "open_text.toml": (b'format = "1\n', "a text is not closed by its quote"),
    "comma.toml": (START_BYTES.replace(b"length_m = 4.5", b"length_m = 4,5"), "decimal point, not a comma"),
    "twice.toml": (b"format = 1\nformat = 1\n", "this key has a value already further up"),
    "utf16.toml": (starting_text().encode("utf-16"), "saved as UTF-16; save it again as UTF-8"),
    "latin.toml": (START_BYTES + "# Kühlbox\n".encode("latin-1"), "not UTF-8; save the file again"),
    "nul.toml": (START_BYTES + b"\0\n", "holds a zero byte"),
    "noise.toml": (bytes(range(1, 256)), "line 2: not UTF-8"),
    "deep.toml": (b"a = " + b"[" * 5000 + b"]" * 5000, "line 1: more than 40 brackets nested"),
    "dots.toml": (b"a" + b".a" * 5000 + b" = 1", "a key with more than 20 dots"),
    "digits.toml": (b"\nformat = " + b"9" * 9000, "line 2: not valid TOML: a number has thousands of digits"),
    "empty.toml": (b"", "vehicle: missing"),
    "comment.toml": (b"# nothing\n", "job: missing"),
    "unknown.toml": (START_BYTES.replace(b"power_w = 60", b"powr_w = 60"), "did you mean 'power_w'?"),
    "nan.toml": (START_BYTES.replace(b"power_w = 60", b"power_w = nan"), "must be a finite number; you gave nan"),
    "inf.toml": (START_BYTES.replace(b"power_w = 60", b"power_w = -inf"), "must be a finite number; you gave -inf"),
    "huge.toml": (START_BYTES.replace(b"power_w = 60", b"power_w = 1e308"), "must be less than 1e+09"),
    "minus.toml": (START_BYTES.replace(b"power_w = 60", b"power_w = -60"), "must be more than 0; you gave -60"),
    "text.toml": (START_BYTES.replace(b"power_w = 60", b'power_w = "60"'), "must be a number in W; you gave the text '60'"),
}  # fmt: skip


@pytest.mark.parametrize("name", FILES)
def test_a_bad_file_is_refused(tmp_path, name):
    content, words = FILES[name]
    path = tmp_path / name
    path.write_bytes(content)
    said = refused(ampwright("check", path))
    assert said.startswith(f"{path}: ")
    assert words in said
    if name not in {"utf16.toml", "empty.toml", "comment.toml"}:
        assert "  line " in said


def test_a_hundred_megabytes_are_refused_with_little_memory(tmp_path):
    path = tmp_path / "big.toml"
    path.touch()
    os.truncate(path, 100_000_000)
    code = (
        "import resource, sys\n"
        "from ampwright.job.load import load_job\n"
        "from ampwright.errors import JobError\n"
        "from pathlib import Path\n"
        "before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss\n"
        "try:\n    load_job(Path(sys.argv[1]))\n"
        "except JobError as error:\n    print(error.problems[0])\n"
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)\n"
    )
    done = subprocess.run([sys.executable, "-c", code, path], capture_output=True, text=True, check=True)
    said, kilobytes = done.stdout.splitlines()
    assert "larger than 2 MB" in said
    assert int(kilobytes) < 20_000
    assert "larger than 2 MB" in refused(ampwright("check", path))


def test_what_is_no_file_is_refused(tmp_path):
    assert "is a directory; name a file" in refused(ampwright("check", tmp_path))
    assert "no such file" in refused(ampwright("check", tmp_path / "lost.toml"))
    (tmp_path / "a.toml").symlink_to("b.toml")
    (tmp_path / "b.toml").symlink_to("a.toml")
    assert "cannot be read" in refused(ampwright("check", tmp_path / "a.toml"))
    assert "cannot be read" in refused(ampwright("check", "n" * 5000))
    os.mkfifo(tmp_path / "pipe")
    assert "is a device or pipe; name an ordinary file" in refused(ampwright("check", tmp_path / "pipe"))


@pytest.mark.skipif(os.geteuid() == 0, reason="the system's administrator may read every file")
def test_an_unreadable_file_is_refused(tmp_path):
    path = saved(tmp_path, starting())
    path.chmod(0)
    assert "Permission denied" in refused(ampwright("check", path))


def test_all_problems_are_shown_and_many_are_counted(tmp_path):
    raw = starting()
    raw["load"] += [{"id": f"k{number}", "name": "x", "power_w": -1} for number in range(60)]
    said = refused(ampwright("check", saved(tmp_path, raw))).splitlines()
    assert said[0].endswith("job.toml: 60 problems")
    assert len(said) == 42
    assert said[-1] == "  ... and 20 more"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (("place", {"weather_file": "lost.epw"}), "lost.epw: cannot be used as weather"),
        (("place", {"weather_file": "job.toml"}), "cannot be used as weather"),
        (("place", {"weather_file": "a\0b"}), "a file name cannot hold a control character"),
        (("parts_files", ["lost.toml", "."]), "no such file"),
        (("parts_files", ["a\0b.toml"]), "a file name cannot hold a zero byte"),
        (("parts_files", ["job.toml"]), "job.toml"),
    ],
)
def test_files_a_job_names_are_refused_as_clearly(tmp_path, change, words):
    raw = {"parts_files": [], **starting()}
    assert words in refused(ampwright("check", saved(tmp_path, put(raw, *change))))


def test_the_report_is_refused_before_anything_is_calculated(tmp_path):
    path = saved(tmp_path, starting())
    said = refused(ampwright("check", path, "--report", tmp_path / "lost" / "van.pdf"))
    assert "there is no folder" in said
    assert "make it first" in said
    said = refused(ampwright("check", path, "--report", path))
    assert "give a name that ends in .pdf" in said
    assert path.read_text(encoding="utf-8").startswith('"format" = 1')
    (tmp_path / "folder.pdf").mkdir()
    assert "cannot be written" in refused(ampwright("check", path, "--report", tmp_path / "folder.pdf"))


def test_new_never_overwrites(tmp_path):
    path = tmp_path / "van.toml"
    path.write_text("mine", encoding="utf-8")
    assert "exists already; choose another name" in refused(ampwright("new", path))
    assert path.read_text(encoding="utf-8") == "mine"
    assert "cannot be written" in refused(ampwright("new", tmp_path / "lost" / "van.toml"))


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("check", "--nope", "x.toml"), "No such option: --nope"),
        (("check",), "Missing argument"),
        (("serve", "--port", "99999"), "less than or equal to 65535"),
        (("chek", "x.toml"), "Did you mean 'check'"),
        (("check", "a.toml", "b.toml"), "unexpected extra argument"),
    ],
)
def test_wrong_use_of_the_command(arguments, words):
    assert words in refused(ampwright(*arguments))


def test_demo_into_a_place_that_is_no_folder(tmp_path):
    (tmp_path / "file").write_text("x", encoding="utf-8")
    assert "use --to FOLDER" in refused(ampwright("demo", "--to", tmp_path / "file"))


def test_names_with_blanks_signs_and_broken_bytes(tmp_path):
    for name in ("my van ü ♥.toml", b"van\xff.toml"):
        argument = str(tmp_path / os.fsdecode(name))
        assert ampwright("new", argument).returncode == 0
        assert "exists already" in refused(ampwright("new", argument))


def test_a_terminal_without_all_signs_still_gets_the_answer():
    done = ampwright("sites", "potsdam", PYTHONIOENCODING="iso8859-2")
    assert done.returncode == 0
    assert "kWh/m?" in done.stdout


def test_a_closed_pipe_ends_quietly():
    with subprocess.Popen(
        [sys.executable, "-c", START, "parts"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        process.stdout.close()
        said = process.stderr.read()
    assert b"Traceback" not in said
