"""Lines of keys in TOML, and files that must be refused quickly and in plain words."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import JobError
from ampwright.toml_positions import decoded_text, line_of, read_bytes, read_toml

TEXT = '''# head
a = 1
"q k".b.c = [ {x=1, y.z=2},
  # between
  {x=3, y={z=4}} ]
[vehicle]
alternator.v = 14
[[part]]
id = "a"
[[part.sub]]
k=1
[[part.sub]]
k=2
[part.t]
m=1
[[part]]
id = "b"
[[part.sub]]
k=3
[part.sub.deep]
x = """
two
"""
y = 2
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("a",), 2),
        (("q k", "b", "c"), 3),
        (("q k", "b", "c", 0, "y", "z"), 3),
        (("q k", "b", "c", 1, "y", "z"), 5),
        (("vehicle", "alternator", "v"), 7),
        (("part", 0), 8),
        (("part", 0, "id"), 9),
        (("part", 0, "sub", 1, "k"), 13),
        (("part", 0, "t", "m"), 15),
        (("part", 1, "id"), 17),
        (("part", 1, "sub", 0, "k"), 19),
        (("part", 1, "sub", 0, "deep", "y"), 24),
        (("part", 1, "not-there"), 16),
        (("not-there",), None),
        ((), None),
    ],
)
def test_line_of_tables_arrays_inline_and_dotted(path, line):
    tomllib.loads(TEXT)
    assert line_of(TEXT, path) == line


def test_line_of_escaped_quoted_key():
    assert line_of('x = 1\n"a\\u00e9\\"b" = 2\n', ('aé"b',)) == 2


def test_line_of_broken_text_gives_no_traceback():
    assert line_of("a = [\nb =\n[[", ("zz",)) is None


KEYS = st.text("abcdefgh", min_size=1, max_size=3)


@given(st.lists(st.dictionaries(KEYS, st.integers(), min_size=1, max_size=4), min_size=1, max_size=5))
def test_line_of_every_key_of_any_list_of_tables(tables):
    lines, expected = [], {}
    for index, table in enumerate(tables):
        lines.append("[[item]]")
        expected["item", index] = len(lines)
        for key, value in table.items():
            lines.append(f"{key} = {value}")
            expected["item", index, key] = len(lines)
    text = "\n".join(lines)
    assert {path: line_of(text, path) for path in expected} == expected


def refusal(path, max_bytes=2_000_000):
    with pytest.raises(JobError) as caught:
        read_toml(path, max_bytes=max_bytes)
    assert caught.value.file == str(path)
    (problem,) = caught.value.problems
    return problem


@pytest.mark.parametrize(
    ("raw", "line", "words"),
    [
        (b"a = " + b"[" * 100_000, 1, "brackets nested"),
        (b"a = " + b"{a=" * 100_000, 1, "brackets nested"),
        (b"x = 1\n" + b".".join([b"a"] * 100_000) + b" = 1", 2, "dots"),
        (b"[" + b" . ".join([b'"a"'] * 100_000) + b"]", 1, "dots"),
        (b"a" * 1_999_999, 1, "followed by ="),
        (b'"""\\' * 400_000, 1, "not valid"),
        (b"a = '" * 300_000, 1, "not valid"),
        (b'"\\"' * 600_000, 1, "not valid"),
        (b"k = [1,]\n" * 100_000, 2, "already further up"),
        (b"[t]\n[t]\n", 2, "already further up"),
        (b"a = 1\n\0b = 2", 2, "zero byte"),
        (b'a = 1\nb = "\xff"', 2, "UTF-8"),
        ("a = 1".encode("utf-16"), None, "UTF-16"),
        (b'a = """x"' + b".a" * 900_000, 1, "quote"),
        (b"a = 1,5\n", 1, "decimal point"),
        (b"a = 1.234,5 # price\n", 1, "decimal point"),
        (b"a = twelve\n", 1, "quotes"),
        (b"a = 'x\n", 1, "quote"),
        (b"a = " + b"9" * 6000, 1, "digits"),
        (b"a = 1\r\nb = [\r\n", 2, "not valid TOML"),
        (b"a = 1\rb = 2", 1, "not valid TOML"),
        (b"x" * 2_000_001, None, "2 MB"),
    ],
)
def test_refused_with_line_and_words(tmp_path, raw, line, words):
    path = tmp_path / "job.toml"
    path.write_bytes(raw)
    problem = refusal(path)
    assert problem.line == line
    assert words in problem.message


def test_huge_file_refused_without_reading_it(tmp_path):
    path = tmp_path / "huge.toml"
    with path.open("wb") as file:
        file.truncate(100_000_000)
    assert "larger than 1 MB" in refusal(path, max_bytes=1_000_000).message
    with pytest.raises(JobError, match="1 problem"):
        read_bytes(path, max_bytes=10)


def test_missing_directory_and_odd_names_refused(tmp_path):
    assert "no such file" in refusal(tmp_path / "none.toml").message
    assert "directory" in refusal(tmp_path).message
    assert "zero byte" in refusal(tmp_path / "a\0b").message


@pytest.mark.parametrize("raw", [b"\xef\xbb\xbfa = 1\r\nb = 2\r\n", b"a = 1\nb = 2\n"])
def test_byte_order_mark_and_line_ends_are_read(tmp_path, raw):
    path = tmp_path / "job.toml"
    path.write_bytes(raw)
    tables, text = read_toml(path, max_bytes=100)
    assert tables == {"a": 1, "b": 2}
    assert text == decoded_text(path, max_bytes=100) == "a = 1\nb = 2\n"
    assert line_of(text, ("b",)) == 2


def test_dots_in_values_and_texts_are_not_keys(tmp_path):
    path = tmp_path / "job.toml"
    dots = ".".join("1" * 60)
    path.write_text(
        f'a = "{dots}"\nb = """x"{dots}"y"""\nc = \'{dots}\' # {dots}\nd.e.f = 1.5\n', encoding="utf-8"
    )
    tables, _ = read_toml(path, max_bytes=2000)
    assert tables["a"] == dots
    assert tables["d"] == {"e": {"f": 1.5}}


@given(st.binary(max_size=200))
def test_any_bytes_give_tables_or_one_problem(tmp_path_factory, raw):
    path = tmp_path_factory.mktemp("any") / "job.toml"
    path.write_bytes(raw)
    problem_count = 0
    try:
        read_toml(path, max_bytes=1000)
    except JobError as error:
        problem_count = len(error.problems)
    assert problem_count <= 1


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('[zone]\nid = "a"\n[[zone]]\nid = "b"\n', "in line 1: "),
        ('[[zone]]\nid = "a"\n\n[zone]\nid = "b"\n', "in line 4: "),
    ],
)
def test_a_list_of_tables_needs_two_brackets(tmp_path, text, line):
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(JobError) as caught:
        read_toml(path, max_bytes=1000)
    (problem,) = caught.value.problems
    assert problem.message == f"not valid TOML: write [[zone]] with two brackets {line}there may be several"
