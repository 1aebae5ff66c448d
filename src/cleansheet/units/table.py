"""The unit table: what each UCUM code is, and every way it is written or said.

The table is data (`data/units.yaml`); this module expands it once (prefixes, plurals) and answers from dictionaries.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from ..terms import CleansheetError


class UnitError(CleansheetError, ValueError):
    """A unit code that is not in the table, or two units of different kinds where one kind is needed."""


@dataclass(frozen=True, slots=True)
class UnitRow:
    """One unit. `pint` is its name for the conversion library, `kind` what it measures, `show` how people write it."""

    code: str
    pint: str
    kind: str
    show: str


@dataclass(frozen=True, slots=True)
class Alias:
    """A way to write or say a unit. `codes` are what it may mean, likeliest first.

    `style` is "symbol" (capitals count), "name" (they do not) or "glued" (a symbol only where it touches its number).
    """

    phrase: str
    codes: tuple[str, ...]
    style: str


@dataclass(frozen=True, slots=True)
class Table:
    """The expanded table: `rows` by code, `same` trade code to code, aliases, and misheard words to codes."""

    rows: dict[str, UnitRow]
    same: dict[str, str]
    aliases: tuple[Alias, ...]
    misheard: dict[str, str]


def _plural(name: str) -> tuple[str, ...]:
    if name.startswith("="):
        return (name[1:],)
    if "|" in name:
        return tuple(name.split("|"))
    return (name, name + "s")


class _Builder:
    """Collects rows and aliases while the table is expanded."""

    def __init__(self, raw: dict[str, Any]) -> None:
        self.prefixes: dict[str, dict[str, Any]] = raw["prefixes"]
        self.rows: dict[str, UnitRow] = {}
        self.same: dict[str, str] = {}
        self.symbols: dict[str, list[str]] = {}
        self.glued: dict[str, list[str]] = {}
        self.names: dict[str, list[str]] = {}

    def row(self, entry: dict[str, Any]) -> None:
        code = str(entry["code"])
        symbols = [str(s) for s in entry.get("symbols") or ()]
        if not entry.get("derived"):
            plain = next((s for s in symbols if s[0] != "~" and "=" not in s[1:]), code)
            show = entry.get("show", plain)
            self.rows[code] = UnitRow(code, entry["pint"], entry["kind"], show)
        for trade in entry.get("same") or ():
            self.same[trade] = code
        names = [form for name in entry.get("names") or () for form in _plural(str(name))]
        self._aliases(code, symbols, names)
        for prefix in entry.get("si") or ():
            self._prefixed(entry, prefix, symbols, names)
        if code in _SQUARED:
            self._powers(code)
        if entry.get("derived") and "show" in entry:
            row = self.rows[code]
            self.rows[code] = UnitRow(row.code, row.pint, row.kind, entry["show"])

    def _aliases(self, code: str, symbols: list[str], names: list[str]) -> None:
        for symbol in symbols:
            if symbol.startswith("~"):
                _add(self.glued, symbol[1:], code)
            elif "=" in symbol[1:]:
                written, _, own = symbol.partition("=")
                _add(self.symbols, written, own)
            else:
                _add(self.symbols, symbol, code)
        for name in names:
            _add(self.names, name.lower(), code)

    def _powers(self, code: str) -> None:
        for power, adjective, short, mark, ordinal in (
            (2, "square", "sq", "²", "squared"),
            (3, "cubic", "cu", "³", "cubed"),
        ):
            made = f"{code}{power}"
            if made not in self.rows:
                kind = "area" if power == 2 else "volume"
                self.rows[made] = UnitRow(made, f"({self.rows[code].pint})**{power}", kind, code + mark)
            for symbol in (
                f"{code}{mark}",
                f"{code}{power}",
                f"{code}^{power}",
                f"{short} {code}",
                f"{short}. {code}",
                f"{short}{code}",
            ):
                _add(self.symbols, symbol, made)
            for said in (f"{adjective} {code}", f"{adjective} {code}s", f"{short} {code}s"):
                _add(self.names, said, made)
            for name in _SQUARED[code]:
                for form in (name, name + "s"):
                    for said in (f"{adjective} {form}", f"{form} {ordinal}", f"{short} {form}", f"{form}{mark}"):
                        _add(self.names, said, made)

    def _prefixed(self, entry: dict[str, Any], prefix: str, symbols: list[str], names: list[str]) -> None:
        about = self.prefixes[prefix]
        base = str(entry["code"])
        code = prefix + base
        word = about["name"]
        shown = entry.get("show") or next((s for s in symbols if s[0] != "~"), base)
        sign = "µ" if prefix == "u" else prefix
        if code not in self.rows:
            self.rows[code] = UnitRow(code, f"{word}{entry['pint']}", entry["kind"], sign + shown)
        short = {
            s.lstrip("~") for s in symbols if " " not in s and "=" not in s and "/" not in s and s not in _NO_PREFIX
        }
        if base not in symbols:
            short.add(shown)
        for written in sorted(short):
            for mark in about["symbols"]:
                _add(self.symbols, mark + written, code)
        for name in names:
            if " " in name or "'" in name:
                continue
            for joined in (word + name, f"{word} {name}", f"{word}-{name}"):
                _add(self.names, joined, code)
            if len(name) > 2:
                for mark in about["symbols"]:
                    _add(self.symbols, mark + name, code)
                    _add(self.symbols, f"{mark} {name}", code)


# Metric lengths that are also squared and cubed.
_SQUARED = {
    "m": ("metre", "meter"), "mm": ("millimetre", "millimeter"), "cm": ("centimetre", "centimeter"),
    "km": ("kilometre", "kilometer"), "dm": ("decimetre", "decimeter"), "um": ("micrometre", "micrometer"),
}  # fmt: skip
# Symbols that are words or signs of their own unless they touch their number.
_GLUED_ONLY = frozenset({"us", "y", "d", "am", "pm"})

# Forms of a unit that nobody puts a prefix before: a prefix would make another word of them ("mins", "pins").
_NO_PREFIX = frozenset({
    "a", "v", "w", "amps", "in", "sec", "secs", "mtr", "mtrs", "lt", "ltr", "ltrs", "Ltr", "bits", "mt", "HZ", "Bar",
    "gm", "gms", "gr", "R", "VDC", "VAC", "Vdc", "Vac", "Vrms", "Vpp", "ADC", "cals",
})  # fmt: skip


def _add(where: dict[str, list[str]], phrase: str, code: str) -> None:
    codes = where.setdefault(phrase, [])
    if code not in codes:
        codes.append(code)


# Lower-case forms of symbols that are words or other signs of their own.
_NOT_LOOSE = frozenset({
    "a", "am", "as", "at", "au", "c", "d", "db", "f", "g", "h", "in", "is", "it", "j", "k", "l", "m", "mi", "mo",
    "mu", "n", "na", "no", "nos", "of", "oh", "on", "or", "pa", "pal", "pas", "pc", "pm", "s", "t", "th", "to", "us",
    "v", "w", "ps", "ms", "mm", "cal", "pw", "ha", "oz",
})  # fmt: skip


def _loose(symbols: dict[str, list[str]], names: dict[str, list[str]]) -> dict[str, list[str]]:
    """Symbols written without their capitals ("kpa", "mbar", "MV"): every case-blind form that is not a word."""
    out: dict[str, list[str]] = {}
    for symbol, codes in symbols.items():
        low = symbol.lower()
        if len(low) < 2 or low in _NOT_LOOSE or low in names or not any(c.isalpha() for c in low):
            continue
        for code in codes:
            _add(out, low, code)
    return out


def _order(codes: list[str]) -> tuple[str, ...]:
    # of two units told apart by capitals only, the commoner prefix comes first
    rank = {"m": 1, "k": 0, "M": 2, "u": 3, "G": 4}
    return tuple(sorted(codes, key=lambda code: rank.get(code[:1], 5))) if len(codes) > 1 else tuple(codes)


def build(raw: dict[str, Any]) -> Table:
    """Expand the YAML table."""
    builder = _Builder(raw)
    for entry in raw["units"]:
        builder.row(entry)
    ambiguous: dict[str, tuple[str, ...]] = {str(k): tuple(v) for k, v in raw["ambiguous"].items()}
    aliases: list[Alias] = []
    for style, forms in (("symbol", builder.symbols), ("glued", builder.glued), ("name", builder.names)):
        for phrase, codes in forms.items():
            way = "glued" if phrase in _GLUED_ONLY and style == "symbol" else style
            aliases.append(Alias(phrase, ambiguous.get(phrase, tuple(codes)), way))
    for phrase, codes in _loose(builder.symbols, builder.names).items():
        aliases.append(Alias(phrase, ambiguous.get(phrase, _order(codes)), "loose"))
    known = {alias.phrase for alias in aliases if alias.style != "loose"}
    aliases.extend(Alias(p, c, "name") for p, c in ambiguous.items() if p not in known and p not in builder.names)
    return Table(builder.rows, builder.same, tuple(aliases), {str(k): v for k, v in raw["misheard"].items()})


@cache
def table() -> Table:
    """The unit table, read and expanded once."""
    from .data_files import packaged

    return build(packaged("units", "units.yaml"))


def aliases() -> tuple[Alias, ...]:
    """Every written and said form in the table."""
    return table().aliases


def misheard() -> dict[str, str]:
    """What a speech recogniser may write for a unit, to the unit's code: only for use beside a number."""
    return table().misheard
