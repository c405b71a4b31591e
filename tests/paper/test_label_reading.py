"""A label is read from a picture as a phone takes it: turned, blurred, uneven in light, or not at all."""

from io import BytesIO

import numpy as np
import pytest
import segno
from PIL import Image, ImageFilter

from mancary.husbandry.refusal import Refusal
from mancary.paper.label_reading import box_on, texts_in
from mancary.paper.qr import label_text
from tests.paper.test_label_sheet import ADDRESS, drawn


def jpeg(picture: Image.Image, quality: int = 80) -> bytes:
    out = BytesIO()
    picture.convert("RGB").save(out, "JPEG", quality=quality)
    return out.getvalue()


def code(text: str, scale: int = 8) -> Image.Image:
    """Made by another library's own drawing."""
    out = BytesIO()
    segno.make(text, error="m", micro=False).save(out, kind="png", scale=scale, border=4)
    return Image.open(out).convert("L")


def in_a_room(label: Image.Image, *, angle: float = 20, blur: float = 1.5) -> Image.Image:
    """Held before a mottled wall, lit from one side."""
    room = np.random.default_rng(5).normal(120, 25, (1200, 1600)).clip(0, 255).astype("uint8")
    scene = Image.fromarray(room).filter(ImageFilter.GaussianBlur(6))
    turned = label.convert("L").rotate(angle, expand=True, fillcolor=235)
    scene.paste(turned, (350, 150))
    light = np.linspace(0.45, 1.0, 1600)[None, :]
    lit = (np.asarray(scene, dtype=float) * light).astype("uint8")
    return Image.fromarray(lit).filter(ImageFilter.GaussianBlur(blur))


@pytest.mark.parametrize("box", ["A05", "KELLER/7", "Ü1", "Z 9"])
def test_a_label_in_a_room_is_read(box: str) -> None:
    found = texts_in(jpeg(in_a_room(code(label_text(ADDRESS, box)))))
    assert [box_on(text) for text in found] == [box]


def test_a_picture_too_blurred_is_not_guessed_at() -> None:
    assert texts_in(jpeg(in_a_room(code(label_text(ADDRESS, "A05")), blur=25))) == []


def test_a_printed_sheet_is_read_and_the_nearest_comes_first() -> None:
    page = drawn("63.5x38.1", 300)
    found = {box_on(text) for text in texts_in(jpeg(page))}
    assert found == {"A05", "C12-B", "KELLER/7", "Ü1", "Z 9"}
    both = Image.new("L", (1200, 700), 255)
    both.paste(code(label_text(ADDRESS, "A06"), 4), (20, 20))
    both.paste(code(label_text(ADDRESS, "A07"), 12), (500, 100))
    assert box_on(texts_in(jpeg(both))[0]) == "A07"


@pytest.mark.parametrize(
    ("text", "box"),
    [
        ("HTTP://MANCARY.LOCAL:8714/B/A05", "A05"),
        ("https://10.0.0.7:8714/b/a05", "a05"),
        ("HTTP://MANCARY.LOCAL:8714/B/KELLER%2F7", "KELLER/7"),
        ("HTTP://MANCARY.LOCAL:8714/PAIR/123", None),
        ("A05", None),
        ("http://example.org/b/a/b", None),
        ("javascript:alert(1)", None),
        ("", None),
    ],
)
def test_only_a_labels_text_leads_to_a_box(text: str, box: str | None) -> None:
    assert box_on(text) == box


@pytest.mark.parametrize("sent", [b"", b"%PDF-1.7", jpeg(code("x"))[:300]])
def test_what_is_no_picture_is_refused(sent: bytes) -> None:
    with pytest.raises(Refusal, match="picture"):
        texts_in(sent)
