"""Cuts the four faces to codepoints.txt, writes them as C++ and their advance widths as JSON.

make_fonts.py OUT_DIR [FONT_DIR...]: OUT_DIR gets fonts.cpp and advance_widths.json.
Same fonts and same list give the same bytes.
"""
import json
import os
import sys

from fontTools import subset

FACES = (
    ("gentium_regular", "GentiumBookPlus-Regular.ttf", "Saltrafter Book"),
    ("gentium_bold", "GentiumBookPlus-Bold.ttf", "Saltrafter Book"),
    ("carlito_regular", "Carlito-Regular.ttf", "Saltrafter Label"),
    ("carlito_bold", "Carlito-Bold.ttf", "Saltrafter Label"),
)
USUAL_FOLDERS = ("/usr/share/fonts", "/usr/local/share/fonts", os.path.expanduser("~/.local/share/fonts"))
# What a face may lack and another of its glyphs shows as well: no-break space, soft and no-break hyphen.
ALIASES = {0x00A0: 0x0020, 0x00AD: 0x002D, 0x2010: 0x002D, 0x2011: 0x002D}
# Copyright and licence stay with the font; what only a font menu shows does not. A family's regular face carries
# the text of its licence for both.
KEPT_NAMES = (0, 1, 2, 4, 6, 14)
LICENCE_NAME = 13


def wanted_codepoints():
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "codepoints.txt")
    codepoints = set()
    with open(path, encoding="ascii", errors="replace") as lines:
        for line in lines:
            text = line.split("#")[0].strip()
            if text:
                first, _, last = text.partition("-")
                codepoints.update(range(int(first, 16), int(last or first, 16) + 1))
    return codepoints


def find(name, folders):
    for folder in folders:
        for where, _, files in sorted(os.walk(folder)):
            if name in files:
                return os.path.join(where, name)
    sys.exit(f"{name} was not found. Debian has it in fonts-sil-gentiumplus or fonts-crosextra-carlito.")


def cut(path, family, codepoints, with_licence):
    names = [*KEPT_NAMES, *([LICENCE_NAME] if with_licence else [])]
    options = subset.Options(layout_features=[], hinting=False, notdef_outline=True, name_IDs=names)
    font = subset.load_font(path, options)
    for table in font["cmap"].tables:
        if table.isUnicode():
            for code, other in ALIASES.items():
                table.cmap.setdefault(code, table.cmap[other])
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=codepoints)
    subsetter.subset(font)
    # A changed font does not carry the reserved name of the one it was made from.
    for record in font["name"].names:
        if record.nameID in (1, 4):
            record.string = family
        elif record.nameID == 6:
            record.string = family.replace(" ", "")
    return font


def measures(font):
    """Advance widths and line heights in thousandths of an em."""
    per_em = font["head"].unitsPerEm
    widths = font["hmtx"]
    return {
        "ascent": round(font["hhea"].ascent * 1000 / per_em),
        "descent": round(-font["hhea"].descent * 1000 / per_em),
        "advances": {str(code): round(widths[glyph][0] * 1000 / per_em)
                     for code, glyph in sorted(font.getBestCmap().items())},
    }


def as_cpp(name, data):
    rows = [",".join(str(byte) for byte in data[at:at + 40]) for at in range(0, len(data), 40)]
    return (f"alignas(4) const unsigned char {name}_bytes[] = {{\n" + ",\n".join(rows) + "};\n", len(data))


def main():
    out_dir, folders = sys.argv[1], [*filter(None, sys.argv[2:]), *USUAL_FOLDERS]
    os.makedirs(out_dir, exist_ok=True)
    codepoints = wanted_codepoints()
    arrays, functions, faces = [], [], {}
    for name, file_name, family in FACES:
        font = cut(find(file_name, folders), family, codepoints, name.endswith("regular"))
        scratch = os.path.join(out_dir, name + ".ttf")
        font.save(scratch)
        with open(scratch, "rb") as source:
            text, size = as_cpp(name, source.read())
        arrays.append(text)
        functions.append(f"FontData {name}() {{ return {{{name}_bytes, {size}}}; }}\n")
        faces[name] = measures(font)
        lacking = sorted(codepoints - set(font.getBestCmap()))
        print(f"{name}: {size} bytes, {len(faces[name]['advances'])} characters, lacks "
              + (" ".join(f"{code:04X}" for code in lacking) or "none"))
    with open(os.path.join(out_dir, "fonts.cpp"), "w", encoding="ascii") as out:
        out.write('#include "core/desk/parts/fonts/fonts.h"\n\nnamespace saltrafter::parts {\nnamespace {\n'
                  + "".join(arrays) + "}  // namespace\n\n" + "".join(functions)
                  + "\n}  // namespace saltrafter::parts\n")
    with open(os.path.join(out_dir, "advance_widths.json"), "w", encoding="ascii") as out:
        json.dump({"unit": "1/1000 em", "faces": faces}, out, indent=1)
        out.write("\n")


main()
