import datetime as dt

import numpy as np
import pytest

from ampwright.errors import FileError
from ampwright.fieldwork.log_file import read_log

START = dt.datetime.fromisoformat("2026-10-03T20:00")


def text_of(rows=100, heading="time,battery_v,battery_a", line="{time},{v:.2f},{a:.1f}"):
    each = (
        line.format(time=(START + dt.timedelta(minutes=i)).isoformat(), v=13.0 + 0.001 * i, a=-1.0 - 0.1 * i)
        for i in range(rows)
    )
    return "\n".join([heading, *each, ""])


def log_of(tmp_path, text, *, names=(), discharge=False, offset_h=0.0):
    path = tmp_path / "log.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_log(path, names=dict(names), discharge_is_positive=discharge, utc_offset_h=offset_h)


def test_figures_and_times(tmp_path):
    log = log_of(tmp_path, text_of())
    assert log.start == START
    assert np.array_equal(log.time_s, 60.0 * np.arange(100))
    assert (log.battery_v[10], log.battery_a[10]) == (13.01, -2.0)
    assert log.soc_frac is None


def test_other_headings_decimal_commas_remarks_and_a_mark_at_the_front(tmp_path):
    text = "\ufeff# from the shelf\n" + text_of(heading="Zeit;U;I", line="{time};{v:.2f};{a:.1f}").replace(
        ".", ","
    )
    log = log_of(tmp_path, text, names={"time": "Zeit", "battery_v": "u", "battery_a": "I"}.items())
    assert (log.battery_v[10], log.battery_a[10]) == (13.01, -2.0)


def test_discharge_counted_as_positive_is_turned(tmp_path):
    assert log_of(tmp_path, text_of(), discharge=True).battery_a[10] == 2.0


def test_times_with_an_offset_become_local(tmp_path):
    text = text_of(line="{time}+00:00,{v:.2f},{a:.1f}")
    assert log_of(tmp_path, text, offset_h=2.0).start == START + dt.timedelta(hours=2)


def test_rows_with_an_empty_field_are_counted_and_doubles_left_out(tmp_path):
    text = text_of() + "2026-10-03T22:00:00,,1\n2026-10-03T22:01:00,13,1\n2026-10-03T22:01:00,13,1\n"
    log = log_of(tmp_path, text)
    assert (log.skipped_count, log.time_s.size) == (1, 101)


def test_state_of_charge_in_percent(tmp_path):
    text = text_of(heading="time,battery_v,battery_a,soc_percent", line="{time},{v:.2f},{a:.1f},50")
    assert set(log_of(tmp_path, text).soc_frac) == {0.5}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "is empty"),
        (text_of(rows=5), "5 readings; at least 60"),
        (text_of(heading="time,volt,amp"), "no column battery_v, battery_a; it has time, volt, amp"),
        (text_of() + "yesterday,13,1\n", "line 102: time 'yesterday' is not like"),
        (text_of() + "2026-10-03T23:00:00,13.1x,1\n", "line 102: battery_v '13.1x' is not a number"),
        (text_of() + "2026-10-03T23:00:00,13100,1\n", "battery_v 13100 is not between 0 and 120"),
        (text_of() + "2026-10-03T23:00:00,nan,1\n", "battery_v nan is not between"),
        (text_of() + "2026-10-03T20:00:00,13,1\n", "line 102: time goes back"),
        (b"\xff\xfet\x00i\x00", "is not text in UTF-8"),
    ],
)
def test_what_cannot_be_read_is_said_with_its_line(tmp_path, text, message):
    with pytest.raises(FileError, match=r"log\.csv") as error:
        log_of(tmp_path, text)
    assert message in str(error.value)


def test_many_bad_lines_are_counted(tmp_path):
    with pytest.raises(FileError, match="and 5 more"):
        log_of(tmp_path, text_of() + "x,1,1\n" * 10)


def test_a_missing_file(tmp_path):
    with pytest.raises(FileError, match="cannot be read"):
        read_log(tmp_path / "none.csv", names={}, discharge_is_positive=False, utc_offset_h=0.0)
