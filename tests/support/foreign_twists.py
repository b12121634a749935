"""Foreign files by chance: units, signs, names, orders, clocks, planes and decoys drawn by a seed.

Each is a block as in :mod:`support.foreign_dialects`. Signs are turned only where a name does
not promise one: a heading counts anticlockwise under a mathematician's name, not a compass's.
"""

from __future__ import annotations

import random

NAMES = {
    "time": ("t", "time", "Elapsed", "sim_time", "TIMESTAMP", "Time since start", "clock"),
    "latitude": ("lat", "Latitude", "gps_lat", "LAT", "pos.lat"),
    "longitude": ("lon", "Longitude", "gps_lon", "LNG", "pos.lon", "long"),
    "altitude": ("alt", "Altitude", "height", "Alt MSL", "elev"),
    "heading": ("hdg", "Heading", "yaw", "psi", "TRUE_HEADING", "hdgTrue"),
    "pitch": ("pitch", "theta", "PitchAngle", "att.pitch", "nose_pitch"),
    "roll": ("roll", "bank", "phi", "BankAngle", "att.roll"),
    "angle_of_attack": ("aoa", "alpha", "AngleOfAttack"),
    "vertical_speed": ("vs", "climb_rate", "VerticalSpeed", "vvi", "roc"),
    "true_airspeed": ("tas", "TrueAirspeed", "v_true"),
    "indicated_airspeed": ("ias", "IndicatedAirspeed"),
}
SHIPS = ("ship_", "cv ", "boat.", "carrier_", "Ship")
UNITS = {
    "deg": ("deg", "[deg]", "(degrees)", "°"),
    "rad": ("rad", "[rad]", "(radians)"),
    "m": ("m", "[m]", "(metres)"),
    "ft": ("ft", "[ft]", "(feet)"),
    "kt": ("kt", "[kn]", "(knots)"),
    "mps": ("mps", "[m/s]"),
    "kmh": ("kmh", "[km/h]"),
    "fps": ("fps", "[ft/s]"),
    "fpm": ("fpm", "[ft/min]"),
    "s": ("s", "[s]", "sec"),
    "ms": ("ms", "[ms]", "msec"),
    "min": ("min", "[min]"),
}
DECOYS = {
    "gs_kt": "ground_kt",
    "GroundSpeed": "ground_mps",
    "mag_hdg": "magnetic",
    "hdg_mag_deg": "magnetic",
    "aoa_units": "aoa_units",
    "frame": "counter",
    "spare1": "zeros",
    "AoS": "zeros",
    "hdg2": "copy:heading:deg",
    "date": "date",
    "pitch_cmd": "zeros",
}
DECOYS_OF_HEIGHT = {"alt_press_ft": "pressure_ft", "alt2_ft": "copy:altitude:ft", "FL": "hundreds"}


class Twist:
    """One file being drawn."""

    def __init__(self, seed: int) -> None:
        self.seed = seed
        self.draw = random.Random(seed)
        self.style: dict[str, str] = {"rate": str(self.draw.choice((10, 20)))}
        #: what of the names carries its unit
        self.told = self.draw.choice((0.0, 0.3, 1.0))
        self.lines: list[str] = []
        self.prefix = self.draw.choice(SHIPS)
        self.with_ship = self.chance(0.8)
        self.with_heading = self.chance(0.95)
        self.angle = self.draw.choice(("deg", "deg", "rad"))
        self.length = self.draw.choice(("m", "ft"))

    def chance(self, share: float) -> bool:
        return self.draw.random() < share

    def add(self, name: str, quantity: str, unit: str, *, turned: bool = False) -> None:
        """Add a column; its unit stands in its name as often as this file's do."""
        words = self.draw.choice(UNITS[unit]) if unit in UNITS and self.chance(self.told) else ""
        name += ("_" if words.isalpha() else " ") + words if words else ""
        self.lines.append(f"{name} => {quantity} {unit}".rstrip() + (" -" if turned else ""))

    def name(self, quantity: str) -> str:
        return self.draw.choice(NAMES[quantity])

    def block(self) -> str:
        base = self.draw.choice(("pattern", "pattern", "pattern", "straight", "level"))
        self.style |= {"base": base} if base != "pattern" else {}
        for habit, share in (("sway", 0.4), ("wind", 0.3), ("half", 0.3)):
            self.style |= {habit: ""} if self.chance(share) else {}
        self._clock()
        plane = self.chance(0.35)
        groups = self._plane() if plane else self._earth()
        self._attitude()
        self._rest(plane)
        groups += [[line] for line in self.lines]
        self.draw.shuffle(groups)
        seen: dict[str, str] = {}
        for line in (line for group in groups for line in group):
            seen.setdefault(line.split(" => ")[0], line)
        how = " ".join(f"{key}={value}" for key, value in self.style.items())
        return "\n".join([f"twist {self.seed}", f"how {how}", *seen.values()])

    def _clock(self) -> None:
        kind = self.draw.random()
        if kind < 0.15:
            self.lines.append(f"{self.name('time')} => clock")
            self.style |= {"midnight": ""} if self.chance(0.4) else {}
        elif kind < 0.25:
            self.lines.append("timestamp => iso")
        elif kind < 0.35:
            self.add(self.name("time"), "epoch", self.draw.choice(("s", "ms")))
        elif kind > 0.4:
            self.add(self.name("time"), "time", self.draw.choice(("s", "s", "ms", "min")))

    def _plane(self) -> list[list[str]]:
        """Add the axes of a plane: named, or x, y, z laid and turned in any way."""
        self.style["plane"] = ""
        axes = ("north", "east", "up")
        turned = [self.chance(0.4) for _ in axes]
        kind = self.draw.choice(("letters", "words", "xyz", "pos"))
        if kind in ("xyz", "pos"):
            labels = ["x", "y", "z"] if kind == "xyz" else ["posX", "posY", "posZ"]
            self.draw.shuffle(labels)
        elif kind == "words":
            pairs = (("north", "south"), ("east", "west"), ("up", "down"))
            labels = [pair[way] for pair, way in zip(pairs, turned, strict=True)]
        else:
            turned = [False, False, turned[2]]
            labels = ["N", "E", "D" if turned[2] else "U"]
        for prefix, quantity in (("", ""), (self.prefix, "ship_")):
            for label, axis, way in zip(labels, axes, turned, strict=True):
                if not prefix or self.with_ship:
                    self.add(prefix + label, quantity + axis, self.length, turned=way)
        return []

    def _earth(self) -> list[list[str]]:
        """Add latitude, longitude and altitude; degrees, radians, or minutes with their letters."""
        unit = self.draw.choice(("deg", "deg", "deg", "rad", "ddmm", "dmh"))
        # without any heading nobody could tell west from east, and east is what the world writes
        west = unit in ("deg", "rad") and self.with_heading and self.chance(0.3)
        if unit in ("deg", "rad") and not west and self.chance(0.2):
            self.style["east360"] = ""
        groups = []
        for prefix, quantity in (("", ""), (self.prefix, "ship_")):
            if prefix and not self.with_ship:
                continue
            lat, lon = (self.name("latitude"), self.name("longitude")) if not prefix else ("lat", "lon")
            if unit == "ddmm":
                for name, what, letters in ((lat, "latitude", "ns"), (lon, "longitude", "ew")):
                    groups.append(
                        [
                            f"{prefix}{name} => {quantity}{what} ddmm",
                            f"{prefix}{name}_h => junk {quantity}{letters}",
                        ]
                    )
            else:
                self.add(prefix + lat, f"{quantity}latitude", unit)
                said = " west" if west and not prefix and self.chance(0.3) else ""
                self.add(prefix + lon + said, f"{quantity}longitude", unit, turned=west)
            self.add(
                prefix + (self.name("altitude") if not prefix else "alt"), f"{quantity}altitude", self.length
            )
        return groups

    def _attitude(self) -> None:
        anticlockwise = self.chance(0.2)
        if self.with_heading:
            name = self.draw.choice(("yaw", "psi")) if anticlockwise else self.name("heading")
            self.add(name, "heading", self.angle, turned=anticlockwise)
        for quantity in ("pitch", "roll"):
            if self.chance(0.9):
                # a world that is mirrored in every sense is the plain one to anybody
                turned = self.chance(0.35) and not (quantity == "roll" and anticlockwise)
                self.add(self.name(quantity), quantity, self.angle, turned=turned)
        if self.chance(0.6):
            unit = self.draw.choice(("deg", "rad"))
            self.add(self.name("angle_of_attack"), "angle_of_attack", unit, turned=self.chance(0.15))
        if self.with_ship:
            name = "yaw" if anticlockwise else "hdg"
            self.add(self.prefix + name, "ship_heading", self.angle, turned=anticlockwise)
            if self.chance(0.5):
                for quantity in ("pitch", "roll"):
                    turned = self.chance(0.35)
                    self.add(self.prefix + quantity, f"ship_{quantity}", self.angle, turned=turned)

    def _rest(self, plane: bool) -> None:
        if self.chance(0.6):
            unit = self.draw.choice(("mps", "fpm", "fps", "kt"))
            self.add(self.name("vertical_speed"), "vertical_speed", unit, turned=self.chance(0.15))
        for quantity in ("true_airspeed", "indicated_airspeed"):
            if self.chance(0.4):
                self.add(self.name(quantity), quantity, self.draw.choice(("kt", "mps", "kmh")))
        if self.chance(0.2):
            quantity = self.draw.choice(("true_airspeed", "indicated_airspeed"))
            self.add("speed", quantity, self.draw.choice(("kt", "mps", "kmh")))
        decoys = DECOYS if plane else DECOYS | DECOYS_OF_HEIGHT
        self.lines += [f"{name} => junk {kind}" for name, kind in decoys.items() if self.chance(0.15)]


def twisted(seed: int) -> str:
    """Draw one file."""
    block = Twist(seed).block()
    name, how, *lines = block.splitlines()
    return "\n".join([name, how, *map(_not_ours, lines)])


def _not_ours(line: str) -> str:
    """Rename a column that is turned under one of our own names, which promise the sign."""
    from deckward.recordings.quantities import Meaning, understand

    header, _, spec = line.partition(" => ")
    return f"{header} x => {spec}" if spec.endswith("-") and isinstance(understand(header), Meaning) else line
