"""Damage with its place and extent in words."""

from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.glossary import shipped_glossary
from bindery_stock.units import LengthStyle


def damage_name(damage: PlacedDamage) -> str:
    """``Outer joint cracked, upper joint``."""
    place = shipped_glossary()[damage.place].british
    return f"{shipped_damages().words(damage).capitalize()}, {place}"


def placed_words(damage: PlacedDamage, lengths: LengthStyle) -> str:
    """``Outer joint cracked, upper joint, 40 mm, stable``."""
    told = [damage_name(damage)]
    if damage.count > 1:
        told.append(f"{damage.count} of them")
    if damage.along is not None and damage.across is not None:
        told.append(lengths.pair(damage.across, damage.along))
    elif damage.along is not None:
        told.append(lengths.show(damage.along))
    if not damage.goes_on:
        told.append("stable")
    return ", ".join(told)
