"""A backup that is damaged, foreign, newer or made to do harm is told from a good one before it is unpacked."""

import io
import json
import zipfile

import pytest

from ampwright.errors import FileError
from ampwright.web.backup.archive import checked_manifest, files_below, good_name, put_manifest, put_part
from ampwright.web.backup.records import BACKUP, Manifest, TableCount

ROWS = b'{"id": 1}\n{"id": 2}\n'


def archive(parts=None, **said):
    """Return the bytes of a small backup."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as made:
        found = [
            put_part(made, name, [content[:7], content[7:]])
            for name, content in (
                parts or {"tables/Job.jsonl": ROWS, "files/jobs/1/a.csv": b"x,y\n" * 99}
            ).items()
        ]
        known = {
            "kind": BACKUP.kind,
            "format": BACKUP.format,
            "program_version": "0.1.0",
            "made_at": "2026-11-30T10:00:00+00:00",
            "tables_as_of": "0001_tables",
            "tables": (TableCount(name="Job", row_count=2),),
            "contents": tuple(found),
        }
        put_manifest(made, Manifest(**{**known, **said}))
    return stream.getvalue()


def check(content, most_bytes=10**9):
    with zipfile.ZipFile(io.BytesIO(content)) as made:
        return checked_manifest(made, most_bytes=most_bytes)


def rewritten(content, change, entry=lambda info: info):
    """Return a backup whose parts went through a change."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w") as new:
        for info in old.infolist():
            for name, inner in change(info.filename, old.read(info)):
                new.writestr(entry(zipfile.ZipInfo(name)), inner)
    return stream.getvalue()


def test_a_good_one_is_believed():
    manifest = check(archive())
    assert [part.name for part in manifest.contents] == ["tables/Job.jsonl", "files/jobs/1/a.csv"]
    assert manifest.contents[0].size_bytes == len(ROWS)


def test_every_changed_byte_of_a_part_is_found():
    content = archive({"files/jobs/1/a.pdf": bytes(range(60))})  # not packed: each of its bytes counts
    with zipfile.ZipFile(io.BytesIO(content)) as made:
        info = made.getinfo("files/jobs/1/a.pdf")
    extra_count = int.from_bytes(content[info.header_offset + 28 : info.header_offset + 30], "little")
    start = info.header_offset + 30 + len(info.filename) + extra_count  # local header, APPNOTE 4.3.7
    for place in range(start, start + info.compress_size):
        bad = bytearray(content)
        bad[place] ^= 0x10
        with pytest.raises(FileError):
            check(bytes(bad))


@pytest.mark.parametrize("left_frac", [0.0, 0.3, 0.6, 0.9, 0.99, 0.999])
def test_one_that_is_cut_off_is_refused(left_frac):
    content = archive()
    with pytest.raises((zipfile.BadZipFile, FileError)):
        check(content[: int(len(content) * left_frac)])


def test_another_zip_file_is_refused():
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as made:
        made.writestr("letter.txt", "hello")
    with pytest.raises(FileError, match="no backup"):
        check(stream.getvalue())
    with pytest.raises(FileError, match="another program"):
        check(archive(kind="something else"))


def test_a_newer_one_says_so():
    with pytest.raises(FileError, match=r"newer program \(9\.0\)"):
        check(archive(format=BACKUP.format + 1, program_version="9.0"))


@pytest.mark.parametrize(
    "name",
    [
        "files/../secret",
        "files//x",
        "/etc/passwd",
        "files/a\\..\\b",
        "files/C:x",
        "files/.hidden",
        "files/a\x00b",
        "files/web.toml",
        "files/secret",
        "files/SECRET",
        "files/ampwright.sqlite3-wal",
        "files/words/x",
        "elsewhere/x",
        "manifest.json.txt",
        "files/" + "a/" * 12 + "b",
        "files/dot.",
    ],
)
def test_a_name_that_leads_elsewhere_is_refused(name):
    with pytest.raises(FileError):
        check(archive({name: b"x"}))


def test_parts_that_are_not_those_of_the_list_are_refused():
    more = rewritten(archive(), lambda name, inner: [(name, inner), (f"{name}x", b"y")])
    less = rewritten(archive(), lambda name, inner: [] if name.startswith("files") else [(name, inner)])
    other = rewritten(
        archive(), lambda name, inner: [(name, inner.upper() if name.startswith("tables") else inner)]
    )
    for content in (more, less, other):
        with pytest.raises(FileError):
            check(content)


def test_a_list_that_lies_about_sizes_is_refused():
    def shorter(name, inner):
        if name != "manifest.json":
            return [(name, inner)]
        raw = json.loads(inner)
        raw["contents"][0]["size_bytes"] -= 1
        return [(name, json.dumps(raw).encode())]

    with pytest.raises(FileError, match="another size"):
        check(rewritten(archive(), shorter))


def test_what_unpacks_to_more_than_there_is_room_for_is_refused():
    small = archive({"files/jobs/1/a.csv": b"\0" * 5_000_000})
    assert len(small) < 20_000
    with pytest.raises(FileError, match="5 MB; there is room for 4 MB"):
        check(small, most_bytes=4_000_000)


def test_parts_that_share_their_bytes_are_refused():
    """Two entries of the list at the end lead to one place: a small file would unpack to any size."""
    content = bytearray(archive({"files/a1": b"x" * 50, "files/a2": b"x" * 50}))
    first, second = (content.rindex(name) for name in (b"files/a1", b"files/a2"))
    content[second - 4 : second] = content[first - 4 : first]  # offset of the local header, APPNOTE 4.3.12
    with pytest.raises(FileError):
        check(bytes(content))


def test_names_with_spaces_and_letters_of_any_language_are_good():
    assert good_name("files/jobs/1/Dach über Bad 2.csv")
    assert good_name("files/own parts/日本.toml")
    assert not good_name("")


def test_files_are_listed_without_links_hidden_ones_and_what_is_left_out(tmp_path):
    (tmp_path / "jobs" / "1").mkdir(parents=True)
    for name in ("jobs/1/a.csv", "jobs/1/.a.csv.new", "secret", "jobs/1/secret", "b"):
        (tmp_path / name).write_text("x", encoding="ascii")
    (tmp_path / "jobs" / "link").symlink_to(tmp_path / "secret")
    found = [name for name, _ in files_below(tmp_path, frozenset({"secret"}))]
    assert found == ["b", "jobs/1/a.csv", "jobs/1/secret"]
