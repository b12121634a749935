"""Finding the DIS packets in network captures and dumps.

Read: pcap and pcapng (Ethernet with or without VLAN tags, Linux cooked, loopback, raw
IP; IPv4 and IPv6; UDP), and files that hold nothing but PDUs, each after its length or
the one after the other.

Source: pcap and pcapng as in the IETF drafts "PCAP Capture File Format" and "PCAP Next
Generation (pcapng) Capture File Format"; RFC 791, 768, 8200 (all from memory).
"""

from __future__ import annotations

import struct

import numpy as np
from msgspec import Struct

HEADER = 12
#: PDU versions whose entity states are laid out alike: 1995, 1998, 2012
VERSIONS = (5, 6, 7)
_LONGEST_PDU = 8192
#: PDUs that one datagram may bundle
_MOST_BUNDLED = 64

_PCAP = {
    b"\xd4\xc3\xb2\xa1": ("<", 1e-6),
    b"\xa1\xb2\xc3\xd4": (">", 1e-6),
    b"\x4d\x3c\xb2\xa1": ("<", 1e-9),
    b"\xa1\xb2\x3c\x4d": (">", 1e-9),
}
_PCAPNG = b"\x0a\x0d\x0d\x0a"
_SECTION, _INTERFACE, _PACKET, _SIMPLE_PACKET, _ENHANCED_PACKET = 0x0A0D0D0A, 1, 2, 3, 6
#: link type -> (bytes before the network packet, where its EtherType stands in them)
_LINKS = {
    1: (14, 12),
    113: (16, 14),
    276: (20, 0),
    0: (4, None),
    108: (4, None),
    101: (0, None),
    12: (0, None),
}
_VLAN = (0x8100, 0x88A8)
_IPV4, _IPV6, _UDP = 0x0800, 0x86DD, 17


class Frames(Struct, frozen=True):
    """Where PDUs lie in a file: (n,) first bytes, and when they were captured, s since 1970.

    ``captured`` is NaN where the file has no capture times. ``fragments``, ``cut`` and
    ``datagrams`` count IPv4 fragments, packets that were captured in part, and UDP
    datagrams seen. ``ends_early`` tells that the file breaks off inside a record.
    """

    offsets: np.ndarray
    captured: np.ndarray
    fragments: int = 0
    cut: int = 0
    datagrams: int = 0
    ends_early: bool = False


def looks_like_frames(head: bytes) -> bool:
    """Tell by its first bytes whether a file is a capture or a dump of PDUs."""
    return head[:4] in _PCAP or head[:4] == _PCAPNG or _prefix(head) is not None


def find_frames(data: bytes) -> Frames:
    """Find the PDUs of a file.

    Raises:
        ValueError: it is a capture of a kind that is not known, with what it is.
    """
    if data[:4] in _PCAP:
        return _pcap(data)
    if data[:4] == _PCAPNG:
        return _pcapng(data)
    return _dump(data, _prefix(data) or 0)


def _plausible(data: bytes, at: int) -> int:
    """Give the length of the PDU that starts at ``at``, 0 where none seems to."""
    if at + HEADER > len(data):
        return 0
    version, kind, family = data[at], data[at + 2], data[at + 3]
    length = int.from_bytes(data[at + 8 : at + 10], "big")
    fits = version in VERSIONS and 0 < kind <= 72 and 0 < family <= 13 and HEADER <= length <= _LONGEST_PDU
    return length if fits else 0


def _prefix(data: bytes) -> int | None:
    """Give how many bytes of length stand before each PDU of a dump; None where it is no dump."""
    for size in (0, 2, 4):
        length = _plausible(data, size)
        if not length:
            continue
        said = data[:size]
        if size and length not in (int.from_bytes(said, "big"), int.from_bytes(said, "little")):
            continue
        after = size + length
        if len(data) < after + size + HEADER or _plausible(data, after + size):
            return size
    return None


def _dump(data: bytes, size: int) -> Frames:
    offsets = []
    at = size
    while length := _plausible(data, at):
        if at + length > len(data):
            break
        offsets.append(at)
        at += length + size
    return Frames(np.array(offsets, int), np.full(len(offsets), np.nan), ends_early=at - size < len(data))


# -- captures ----------------------------------------------------------------------------------


def _pcap(data: bytes) -> Frames:
    order, tick = _PCAP[data[:4]]
    if len(data) < 24:
        return Frames(np.empty(0, int), np.empty(0), ends_early=True)
    link = struct.unpack_from(order + "I", data, 20)[0] & 0xFFFF
    record = struct.Struct(order + "IIII")
    starts, lengths, seconds, parts = [], [], [], []
    cut = 0
    at, end = 24, len(data)
    while at + 16 <= end:
        second, part, length, whole = record.unpack_from(data, at)
        at += 16
        if at + length > end:
            break
        starts.append(at)
        lengths.append(length)
        seconds.append(second)
        parts.append(part)
        cut += length < whole
        at += length
    times = np.array(seconds, float) + tick * np.array(parts, float)
    return _packets(
        data, np.array(starts, int), np.array(lengths, int), times, _links(link, len(starts)), cut, at != end
    )


def _pcapng(data: bytes) -> Frames:
    starts, lengths, times, links = [], [], [], []
    interfaces: list[tuple[int, float, int]] = []
    cut = 0
    order = "<"
    at, end = 0, len(data)
    while at + 12 <= end:
        kind = struct.unpack_from(order + "I", data, at)[0]
        if kind == _SECTION:
            order = "<" if data[at + 8 : at + 12] == b"\x4d\x3c\x2b\x1a" else ">"
            interfaces = []
        size = struct.unpack_from(order + "I", data, at + 4)[0]
        if size < 12 or at + size > end:
            break
        body, after = at + 8, at + size - 4
        if kind == _INTERFACE and after - body >= 8:
            interfaces.append(_interface(data[body:after], order))
        elif kind in (_ENHANCED_PACKET, _PACKET) and after - body >= 20:
            layout = "IIIII" if kind == _ENHANCED_PACKET else "HHIIII"
            fields = struct.unpack_from(order + layout, data, body)
            high, low, length, whole = fields[-4:]
            if fields[0] < len(interfaces) and body + 20 + length <= after:
                link, tick, offset = interfaces[fields[0]]
                starts.append(body + 20)
                lengths.append(length)
                times.append((high << 32 | low) * tick + offset)
                links.append(link)
                cut += length < whole
        elif kind == _SIMPLE_PACKET and interfaces and after - body >= 4:
            whole = struct.unpack_from(order + "I", data, body)[0]
            length = min(whole, after - body - 4)
            starts.append(body + 4)
            lengths.append(length)
            times.append(np.nan)
            links.append(interfaces[0][0])
            cut += length < whole
        at += size
    return _packets(
        data,
        np.array(starts, int),
        np.array(lengths, int),
        np.array(times, float),
        np.array(links, int),
        cut,
        at != end,
    )


def _interface(body: bytes, order: str) -> tuple[int, float, int]:
    """Give link type, seconds a tick and seconds to add of a pcapng interface."""
    link = struct.unpack_from(order + "H", body, 0)[0]
    tick, offset = 1e-6, 0
    at = 8
    while at + 4 <= len(body):
        code, size = struct.unpack_from(order + "HH", body, at)
        value = body[at + 4 : at + 4 + size]
        if code == 0:
            break
        if code == 9 and size == 1:
            tick = 2.0 ** -(value[0] & 0x7F) if value[0] & 0x80 else 10.0 ** -value[0]
        elif code == 14 and size == 8:
            offset = struct.unpack(order + "q", value)[0]
        at += 4 + size + (-size % 4)
    return link, tick, offset


def _links(link: int, count: int) -> np.ndarray:
    return np.full(count, link)


def _packets(data, starts, lengths, times, links, cut: int, ends_early: bool) -> Frames:
    """Go from captured packets to the PDUs in their datagrams, all packets at once."""
    known = np.isin(links, list(_LINKS))
    if starts.size and not known.any():
        raise ValueError(f"its packets were captured on a link of type {int(links[0])}, which is not known")
    octets = np.frombuffer(data, np.uint8)
    ends = starts + lengths
    place = np.full(starts.size, -1)
    kind = np.zeros(starts.size, int)
    for link, (skip, where) in _LINKS.items():
        own = np.flatnonzero(known & (links == link) & (lengths > skip + 8))
        if not own.size:
            continue
        at = starts[own] + skip
        if where is None:
            version = octets[at] >> 4
            found = np.where(version == 4, _IPV4, np.where(version == 6, _IPV6, 0))
        else:
            found = _pair(octets, starts[own] + where)
            for _ in range(2):  # a VLAN tag, or two
                tagged = np.isin(found, _VLAN) & (at + 8 < ends[own])
                found = np.where(tagged, _pair(octets, np.where(tagged, at + 2, 0)), found)
                at = np.where(tagged, at + 4, at)
        place[own], kind[own] = at, found
    payload, fragments = _payloads(octets, place, kind, ends)
    offsets, rows = _bundled(data, octets, payload, ends)
    return Frames(offsets, times[rows], fragments, cut, int((payload >= 0).sum()), ends_early)


def _pair(octets: np.ndarray, at: np.ndarray) -> np.ndarray:
    """Read two bytes, the higher first, at each place."""
    return octets[at].astype(int) << 8 | octets[at + 1]


def _payloads(octets, place, kind, ends) -> tuple[np.ndarray, int]:
    """Give where the payload of each UDP datagram starts, -1 where there is none; fragments left out."""
    payload = np.full(place.size, -1)
    fragments = 0
    four = np.flatnonzero((kind == _IPV4) & (place >= 0) & (place + 28 <= ends))
    if four.size:
        at = place[four]
        size = (octets[at] & 15).astype(int) * 4
        part = (_pair(octets, at + 6) & 0x3FFF) != 0
        datagram = (
            (octets[at + 9] == _UDP) & (octets[at] >> 4 == 4) & (size >= 20) & (at + size + 8 <= ends[four])
        )
        fragments = int((part & (octets[at + 9] == _UDP)).sum())
        payload[four[datagram & ~part]] = (at + size + 8)[datagram & ~part]
    six = np.flatnonzero((kind == _IPV6) & (place >= 0) & (place + 48 <= ends))
    if six.size:
        at = place[six]
        datagram = (octets[at + 6] == _UDP) & (octets[at] >> 4 == 6)
        payload[six[datagram]] = (at + 48)[datagram]
    return payload, fragments


def _bundled(data, octets, payload, ends) -> tuple[np.ndarray, np.ndarray]:
    """Give the first byte of every PDU and the packet it came in; a datagram may hold several."""
    found: list[np.ndarray] = []
    packets: list[np.ndarray] = []
    rows = np.flatnonzero(payload >= 0)
    at = payload[rows]
    for _ in range(_MOST_BUNDLED):
        room = at + HEADER <= ends[rows]
        rows, at = rows[room], at[room]
        if not rows.size:
            break
        length = _pair(octets, at + 8)
        fits = np.isin(octets[at], VERSIONS) & (length >= HEADER) & (at + length <= ends[rows])
        rows, at, length = rows[fits], at[fits], length[fits]
        found.append(at)
        packets.append(rows)
        at = at + length
    if not found:
        return np.empty(0, int), np.empty(0, int)
    offsets, whose = np.concatenate(found), np.concatenate(packets)
    order = np.argsort(offsets, kind="stable")
    return offsets[order], whose[order]
