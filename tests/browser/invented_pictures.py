"""Why this file exists: the tests of photos need pictures that nobody took."""

import base64
import struct
import zlib

from playwright.sync_api import Page


def png(width: int, height: int) -> bytes:
    """A PNG (ISO/IEC 15948) whose left half is dark and whose right half is light."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        return (
            struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))
        )

    row = b"\0" + b"\x30\x20\x10" * (width // 2) + b"\xf0\xe0\xd0" * (width - width // 2)
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(row * height))
        + chunk(b"IEND", b"")
    )


def sideways_jpeg(tab: Page, width: int, height: int) -> bytes:
    """A JPEG that is dark at its left, lies on its side as Exif says (orientation 6), and bears a place."""
    made = tab.evaluate(
        """([width, height]) => {
          const canvas = Object.assign(document.createElement('canvas'), { width, height });
          const pen = canvas.getContext('2d');
          pen.fillStyle = '#fff';
          pen.fillRect(0, 0, width, height);
          pen.fillStyle = '#000';
          pen.fillRect(0, 0, width / 2, height);
          return canvas.toDataURL('image/jpeg').split(',')[1];
        }""",
        [width, height],
    )
    jpeg = base64.b64decode(made)
    exif = _exif(orientation=6)
    return jpeg[:2] + b"\xff\xe1" + struct.pack(">H", len(exif) + 2) + exif + jpeg[2:]


def _exif(orientation: int) -> bytes:
    """Exif 2.3, 4.6: which way is up, "invented" as the software, and a GPS entry: northern hemisphere."""
    turned = struct.pack(">HHIHH", 0x0112, 3, 1, orientation, 0)
    software = struct.pack(">HHII", 0x0131, 2, 9, 50)
    place = struct.pack(">HHII", 0x8825, 4, 1, 59)
    first = struct.pack(">H", 3) + turned + software + place + struct.pack(">I", 0)
    hemisphere = struct.pack(">H", 1) + struct.pack(">HHI4s", 1, 2, 2, b"N\0\0\0") + struct.pack(">I", 0)
    return b"Exif\0\0MM\0*\0\0\0\x08" + first + b"invented\0" + hemisphere
