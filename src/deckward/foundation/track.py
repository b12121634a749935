"""The frozen track: what one craft did, sample by sample, in SI."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from msgspec import Struct, field
from msgspec.structs import force_setattr, replace


def _readonly(array) -> np.ndarray:
    """Freeze an array: a copy of it, unless it is frozen already."""
    if isinstance(array, np.ndarray) and array.dtype == float and not array.flags.writeable:
        return array
    out = np.array(array, dtype=float, copy=True)
    out.setflags(write=False)
    return out


class Track(Struct, frozen=True):
    """Samples of one craft.

    ``time`` is (n,), s, strictly increasing. ``channels`` maps a quantity of the
    contract (``latitude``, ``altitude``, ``pitch``, ``throttle`` ...) to (n,)
    values in SI and radians, NaN where a sample has none; a quantity that was not
    recorded is absent. Position is either ``latitude``/``longitude``/``altitude``
    (WGS-84, rad, rad, m) or ``north``/``east``/``up`` (m, a local plane).
    ``sigma`` gives what the writer of the file is known to have rounded or jittered
    away, one standard deviation per quantity, where the reader found out. ``doubt`` gives, where
    a reader put samples between what was recorded, a standard deviation (n,) for each sample: of
    ``up`` and ``level`` (each level axis), m, of their rates ``climb`` and ``pace``, m/s, and of
    ``heading``, ``pitch``, ``roll``, rad; such errors are alike from sample to sample, so that
    smoothing does not reduce them.
    """

    who: str
    time: np.ndarray
    channels: Mapping[str, np.ndarray]
    sigma: Mapping[str, float] = field(default_factory=dict)
    doubt: Mapping[str, np.ndarray] = field(default_factory=dict)

    def __post_init__(self) -> None:
        time = _readonly(self.time)
        channels = {name: _readonly(values) for name, values in self.channels.items()}
        for name, values in channels.items():
            if values.shape != time.shape:
                raise ValueError(f"channel {name}: shape {values.shape}, time has {time.shape}")
        doubt = {name: _readonly(values) for name, values in self.doubt.items()}
        force_setattr(self, "time", time)
        force_setattr(self, "channels", MappingProxyType(channels))
        force_setattr(self, "sigma", MappingProxyType(dict(self.sigma)))
        force_setattr(self, "doubt", MappingProxyType(doubt))

    def __len__(self) -> int:
        return int(self.time.size)

    def __contains__(self, quantity: str) -> bool:
        return quantity in self.channels

    def __getitem__(self, quantity: str) -> np.ndarray:
        return self.channels[quantity]

    def get(self, quantity: str) -> np.ndarray | None:
        """Return the channel, or None when it was not recorded."""
        return self.channels.get(quantity)

    @property
    def geodetic(self) -> bool:
        """Whether position is latitude, longitude, altitude rather than a local plane."""
        return "latitude" in self.channels

    def between(self, start: float, end: float) -> Track:
        """Return the samples with ``start <= time <= end``."""
        i, j = np.searchsorted(self.time, [start, np.nextafter(end, np.inf)])
        return self.take(slice(int(i), int(j)))

    def take(self, index) -> Track:
        """Return the samples that a slice, mask or index array picks."""
        return replace(
            self,
            time=self.time[index],
            channels={name: values[index] for name, values in self.channels.items()},
            doubt={name: values[index] for name, values in self.doubt.items()},
        )

    def doubt_at(self, name: str, when) -> np.ndarray:
        """Return the doubt of that name at times (m,), s; 0 where the track has none."""
        doubt = self.doubt.get(name)
        return np.zeros(np.shape(when)) if doubt is None else np.interp(when, self.time, doubt)

    def with_channels(self, **channels: np.ndarray) -> Track:
        """Return a copy with channels added or replaced."""
        return replace(self, channels={**self.channels, **channels})
