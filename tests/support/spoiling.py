"""Spoiling good files at random, by own mutations with a fixed seed, and what their readers make of them.

A case is a seed: kind of file, the good file it starts from and every mutation follow from it, so that a
case that fails is made again by its number alone.
"""

from __future__ import annotations

import gzip
import io
import json
import random
import struct
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import polars as pl

from deckward import aircraft, planning, scoring, site
from deckward.errors import DeckwardError
from deckward.prediction import pilots
from deckward.recordings import draft_column_map, open_recording, read_column_map, write_column_map
from support.dis_packets import SURFACE, as_ship, datagram, ethernet, pcap, pcapng, states_of
from support.recorded_flight import columns_of, csv_text, flight

#: pieces that break readers: numbers past all range, marks, zeros, other scripts, paths
BITS = (
    b",", b";", b"\t", b"\n", b"\r", b"\r\n", b'"', b"'", b"\0", b"#", b"=", b"[", b"]", b"[[", b"{", b"}",
    b"1e999", b"-1e999", b"nan", b"inf", b"-0", b"0x1F", b"1e-400", b"99999999999999999999", b"\xff\xfe",
    b"\xef\xbb\xbf", b"\xc3\x28", b"\xed\xa0\x80", b"../../x", b"true", b"null", b"1_000", b"12:61:61",
    b"2031-02-30T25:00:00Z", b"\xe2\x80\xae", b"\x1b[31m", b"%n%s", b"${HOME}", b"\x1f\x8b\x08", b"PAR1",
    "°".encode(), "км/ч".encode(), b"\\", b'\\"', b'"""', b"a." * 40, b"[" * 300, b"9" * 400,
)  # fmt: skip


@dataclass(frozen=True)
class Kind:
    """A kind of file: its name's ending, good ones to start from, and who reads it."""

    name: str
    ending: str
    good: Callable[[], tuple[bytes, ...]]
    read: Callable[[Path], object]
    text: bool = True


def _flight(seconds: float = 6.0) -> dict:
    return columns_of(flight(seconds, 10.0))


@cache
def _tables() -> tuple[bytes, ...]:
    columns = _flight()
    plain = csv_text(columns)
    few = {
        name: columns[name] for name in ("time_s", "latitude_deg", "longitude_deg", "altitude_m", "pitch_deg")
    }
    foreign = plain.replace("latitude_deg", "Breite").replace("longitude_deg", "Laenge").replace("_m", "_ft")
    comma = csv_text(columns, delimiter=";").replace(".", ",")
    clock = csv_text({"time": [f"23:59:{55 + i / 10:06.3f}"[:12] for i in range(40)], **{
        name: values[:40] for name, values in few.items() if name != "time_s"}})  # fmt: skip
    texts = (plain, csv_text(few), foreign, comma, clock)
    return (*(text.encode() for text in texts), plain.encode("utf-16"))


@cache
def _json() -> tuple[bytes, ...]:
    columns = _flight(3.0)
    rows = [dict(zip(columns, map(float, row), strict=True)) for row in zip(*columns.values(), strict=True)]
    nested = [{"t": r["time_s"], "jet": {"pos": {"lat": r["latitude_deg"], "lon": r["longitude_deg"],
               "alt": [r["altitude_m"], 1]}}} for r in rows]  # fmt: skip
    return ("\n".join(map(json.dumps, rows)).encode(), json.dumps(rows).encode(),
            "\n".join(map(json.dumps, nested)).encode())  # fmt: skip


@cache
def _parquet() -> tuple[bytes, ...]:
    out = []
    for frame in (pl.DataFrame(_flight()), pl.DataFrame(_flight()).with_columns(who=pl.lit("Wren"))):
        data = io.BytesIO()
        frame.write_parquet(data)
        out.append(data.getvalue())
    return tuple(out)


@cache
def _packed() -> tuple[bytes, ...]:
    return tuple(gzip.compress(data, mtime=0) for data in (*_tables()[:3], *_json()[:1]))


@cache
def _states() -> tuple[tuple[float, bytes], ...]:
    """A jet at 5 Hz and a ship that speaks every second and a half."""
    start = 1_937_124_000.0
    flown = flight(8.0, 10.0)
    air = states_of(flown, range(2, 78, 2), start=start, marking="Wren")
    sea = states_of(as_ship(flown), range(3, 78, 15), start=start, entity=(1, 2, 4), domain=SURFACE)
    return tuple(sorted([*air, *sea], key=lambda state: state[0]))


@cache
def _captures() -> tuple[bytes, ...]:
    frames = [(when, ethernet(datagram(pdu))) for when, pdu in _states()]
    bundles = [(frames[0][0], ethernet(datagram(b"".join(pdu for _, pdu in _states()[:9]))))]
    return pcap(frames), pcap(frames, order=">", nano=True), pcapng(frames), pcap(bundles + frames[9:])


@cache
def _dumps() -> tuple[bytes, ...]:
    pdus = [pdu for _, pdu in _states()]
    return tuple(
        b"".join((struct.pack(prefix, len(pdu)) if prefix else b"") + pdu for pdu in pdus)
        for prefix in ("", ">I", "<H")
    )


@cache
def _maps() -> tuple[bytes, ...]:
    head = '[file]\ndelimiter = ","\ndecimal = "."\nencoding = "utf-8"\nheader_lines = 1\n'
    column = (
        '[[column]]\nsource = "{}"\nquantity = "{}"\nunit = "{}"\nsign = 1\nconfidence = 0.9\nasked = false\n'
    )
    rows = [
        column.format(name, *name.rsplit("_", 1)) for name in _flight() if name.endswith(("_deg", "_m", "_s"))
    ]
    return (head + "\n".join(rows)).encode(), "\n".join(rows[:4]).encode()


def _texts(shelf, names) -> Callable[[], tuple[bytes, ...]]:
    return cache(lambda: tuple(shelf.source(name).encode() for name in names))


def _draft(path: Path) -> None:
    """Draft a map, answer all that is asked, and read by it."""
    draft = draft_column_map(path)
    for number in range(40):
        if not draft.questions:
            break
        question = draft.questions[0]
        draft = draft.taught(question, question.choices[number % len(question.choices)])
    kept = path.with_suffix(".map.toml")
    kept.write_text(write_column_map(draft.map), encoding="utf-8")
    try:
        open_recording(path, column_map=read_column_map(kept))
    finally:
        kept.unlink()


def _opened(path: Path) -> None:
    recording = open_recording(path)
    for track in (*recording.aircraft, *([recording.ship] if recording.ship else [])):
        assert np.all(np.diff(track.time) > 0.0), "time goes back in a track"
        assert all(not np.isinf(values).any() for values in track.channels.values()), "an infinite value"


KINDS = (
    Kind("delimited text", ".csv", _tables, _opened),
    Kind("delimited text, drafted", ".csv", _tables, _draft),
    Kind("JSON", ".jsonl", _json, _opened),
    Kind("JSON, drafted", ".jsonl", _json, _draft),
    Kind("Parquet", ".parquet", _parquet, _opened, text=False),
    Kind("gzip", ".csv.gz", _packed, _opened, text=False),
    Kind("capture of PDUs", ".pcap", _captures, _opened, text=False),
    Kind("dump of PDUs", ".bin", _dumps, _opened, text=False),
    Kind("column map", ".toml", _maps, read_column_map),
    Kind("site", ".toml", _texts(site, ("wintermere", "generic-ship")), site.load),
    Kind("aircraft", ".toml", _texts(aircraft, ("sandlark", "generic-jet")), aircraft.load),
    Kind("rulebook", ".toml", _texts(scoring, ("strict",)), scoring.load),
    Kind("scenario", ".toml", _texts(planning, ("lantern-evening",)), planning.load),
    Kind("pilot", ".toml", cache(lambda: (pilots.text(pilots.load(), name="Mine").encode(),)), pilots.load),
)


def spoilt(kind: Kind, chance: random.Random) -> bytes:
    """Take a good file of a kind and spoil it in one to six ways."""
    data = bytearray(chance.choice(kind.good()))
    for _ in range(chance.randint(1, 6)):
        data = _once(kind, data, chance)
    return bytes(data)


def _once(kind: Kind, data: bytearray, chance: random.Random) -> bytearray:
    size = len(data)
    at = chance.randrange(size + 1)
    way = chance.randrange(12 if kind.text else 5)
    if way == 0:  # cut
        return data[:at]
    if way == 1:  # a piece lost
        return data[:at] + data[min(size, at + chance.choice((1, 8, 200))) :]
    if way == 2:  # a piece put in
        return data[:at] + chance.choice(BITS) + data[at:]
    if way == 3:  # bits turned
        for _ in range(chance.randint(1, 8)):
            if data:
                data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        return data
    if way == 4:  # a stretch of chance
        return data[:at] + chance.randbytes(chance.randint(1, 60)) + data[at:]
    lines = bytes(data).split(b"\n")
    i = chance.randrange(len(lines))
    if way == 5:  # a line twice, or many times
        lines[i:i] = [lines[i]] * chance.choice((1, 3))
    elif way == 6:  # a line lost
        del lines[i]
    elif way == 7:  # two lines change places
        j = chance.randrange(len(lines))
        lines[i], lines[j] = lines[j], lines[i]
    elif way in (8, 9):  # a value or cell replaced
        mark = b" = " if b" = " in lines[i] else b","
        cells = lines[i].split(mark)
        cells[chance.randrange(len(cells))] = chance.choice(BITS)
        lines[i] = mark.join(cells)
    elif way == 10:  # a column of something else
        cell = chance.choice(BITS)
        column = chance.randrange(8)
        for n, line in enumerate(lines[1:], start=1):
            cells = line.split(b",")
            if column < len(cells):
                cells[column] = cell
                lines[n] = b",".join(cells)
    else:  # other line ends
        return bytearray(chance.choice((b"\r", b"\r\n", b"\n\n", b"\x0b")).join(lines))
    return bytearray(b"\n".join(lines))


@dataclass(frozen=True)
class Outcome:
    """What became of a case: "read", "refused" or "broken", and of the last the reason."""

    kind: str
    what: str
    why: str = ""


def try_case(seed: int, folder: Path) -> Outcome:
    """Spoil a file by the seed, read it, and judge what came of it."""
    chance = random.Random(seed)
    kind = KINDS[seed % len(KINDS)]
    path = folder / f"case{kind.ending}"
    path.write_bytes(spoilt(kind, chance))
    try:
        kind.read(path)
    except DeckwardError as error:
        why = complaint(error, folder)
        return Outcome(kind.name, "broken" if why else "refused", why)
    except RecursionError as fault:
        return Outcome(kind.name, "broken", f"RecursionError: {str(fault)[:80]}")
    except (KeyboardInterrupt, SystemExit):
        raise
    except BaseException as fault:  # a panic of compiled code is no Exception
        return Outcome(kind.name, "broken", f"{type(fault).__name__}: {str(fault)[:200]}")
    finally:
        path.unlink()
    return Outcome(kind.name, "read")


def complaint(error: DeckwardError, folder: Path) -> str:
    """Say what is wrong with a message; empty where it is as it should be."""
    message = error.message()
    if str(folder) not in message:
        return f"no file in it: {message[:120]}"
    if error.exit_code not in (2, 3):
        return f"exit code {error.exit_code}"
    if len(message) > 6000:
        return f"{len(message)} signs long"
    if any(not (sign.isprintable() or sign == "\n") for sign in message):
        return f"signs that do not print: {message[:120]!r}"
    if not error.remedy and "\n  key " not in message:
        return f"no remedy: {message[:160]}"
    return ""
