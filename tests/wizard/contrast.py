"""How well one colour can be told from another, by the definitions of WCAG 2.2 (2.1 has the same)."""

from rich.color import Color, ColorSystem

from wizard.app import ShaftlogApp

LEAST = 4.5
"""The least contrast of text, success criterion 1.4.3."""

Triplet = tuple[int, int, int]


def triplet(text: str) -> Triplet:
    """A colour written as "#1f4e6b"."""
    red, green, blue = bytes.fromhex(text.removeprefix("#"))
    return red, green, blue


def luminance(colour: Triplet) -> float:
    """Relative luminance of an sRGB colour."""
    parts = [value / 255 for value in colour]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: Triplet, other: Triplet) -> float:
    """Contrast of two colours, 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def in_256(colour: Triplet) -> Triplet:
    """The colour that a terminal of 256 colours gets."""
    return tuple(Color.from_rgb(*colour).downgrade(ColorSystem.EIGHT_BIT).get_truecolor())  # type: ignore[return-value]


def hard_to_read(app: ShaftlogApp) -> list[str]:
    """Texts on the screen whose contrast is too low; frames, scroll bars and what lies behind a dialog left out."""
    found = []
    for row, strip in enumerate(app.screen._compositor.render_strips()):
        column = 0
        for segment in strip:
            place, column = column, column + segment.cell_length
            style, words = segment.style, segment.text.strip()
            is_drawing = all(0x2500 <= ord(sign) <= 0x259F for sign in words)
            if not words or is_drawing or app.screen.get_widget_at(place, row)[0] is app.screen:
                continue
            assert style is not None, words
            assert style.color is not None, words
            assert style.bgcolor is not None, words
            ink, paper = tuple(style.color.get_truecolor()), tuple(style.bgcolor.get_truecolor())
            for depth, one, other in (("24 bits", ink, paper), ("256", in_256(ink), in_256(paper))):
                if contrast(one, other) < LEAST:
                    found.append(f"{words!r} {ink} on {paper}: {contrast(one, other):.2f} ({depth})")
    return found
