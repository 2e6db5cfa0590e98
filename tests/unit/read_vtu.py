"""Reads a .vtu file with the standard library alone, as somebody else's reader would, and prints what is in it."""
import base64
import struct
import sys
import xml.etree.ElementTree as tree
import zlib

KINDS = {"Float32": "f", "Float64": "d", "Int32": "i", "Int64": "q", "UInt8": "B"}


def decode(text, header, kind):
    """One compressed array: a header of block sizes, then the blocks, each part in base64 by itself."""
    size = struct.calcsize(header)
    blocks = struct.unpack("<" + header, base64.b64decode(text[:16])[:size])[0]
    length = 4 * ((size * (3 + blocks) + 2) // 3)
    sizes = struct.unpack(f"<{3 + blocks}{header}", base64.b64decode(text[:length]))[3:]
    packed = base64.b64decode(text[length:length + 4 * ((sum(sizes) + 2) // 3)])
    data, at = b"", 0
    for one in sizes:
        data += zlib.decompress(packed[at:at + one])
        at += one
    return struct.unpack(f"<{len(data) // struct.calcsize(kind)}{kind}", data)


def tetrahedron(a, b, c, d):
    u, v, w = ([q - p for p, q in zip(a, other)] for other in (b, c, d))
    return (u[0] * (v[1] * w[2] - v[2] * w[1]) - u[1] * (v[0] * w[2] - v[2] * w[0])
            + u[2] * (v[0] * w[1] - v[1] * w[0])) / 6


HEXAHEDRON = [(0, 1, 2, 5), (0, 2, 7, 5), (0, 2, 3, 7), (0, 5, 7, 4), (2, 7, 5, 6)]
WEDGE = [(0, 2, 1, 3), (1, 2, 4, 3), (2, 5, 4, 3)]

root = tree.parse(sys.argv[1]).getroot()
header = {"UInt32": "I", "UInt64": "Q"}[root.get("header_type")]
appended = root.find("AppendedData").text.strip()[1:]
arrays = {}
for node in root.iter("DataArray"):
    arrays[node.get("Name")] = (decode(appended[int(node.get("offset")):], header, KINDS[node.get("type")]),
                                int(node.get("NumberOfComponents", "1")))
points = arrays["Points"][0]
points = [points[n:n + 3] for n in range(0, len(points), 3)]
volume, start, least = 0.0, 0, 1e300
for end, kind in zip(arrays["offsets"][0], arrays["types"][0]):
    corner = [points[n] for n in arrays["connectivity"][0][start:end]]
    one = sum(tetrahedron(*(corner[n] for n in four)) for four in (HEXAHEDRON if kind == 12 else WEDGE))
    volume, start, least = volume + one, end, min(least, one)
print("cells", len(arrays["offsets"][0]))
print("points", len(points))
print("wedges", sum(kind == 13 for kind in arrays["types"][0]))
print("volume", volume)
print("all_upright", int(least > 0))
for name, (values, components) in arrays.items():
    if name not in ("Points", "connectivity", "offsets", "types"):
        print(name, components, len(values), sum(values))
