"""Puts the page together: hashed names, icons as PNG, the service worker's list, one version for all of it.

pack.py WEB_DIR ICON_DIR PROGRAM.js RSVG_CONVERT OUT_DIR. The same input gives the same bytes.
"""
import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile

PNGS = (("icon.svg", "icon-192.png", 192), ("icon.svg", "icon-512.png", 512),
        ("icon-maskable.svg", "icon-maskable-512.png", 512))


def read(path):
    with open(path, "rb") as source:
        return source.read()


def sha(data):
    return hashlib.sha256(data).hexdigest()


def fill(text, values):
    for name, value in values.items():
        text = text.replace(f"@{name}@", value)
    return text


def version_of(files):
    """Of all contents, in the order of their names."""
    return sha("".join(f"{name} {sha(data)}\n" for name, data in sorted(files.items())).encode())[:16]


def program(glue_path):
    """The program and its glue under names that hold their checksums: no cache can pair old with new."""
    wasm_path = os.path.splitext(glue_path)[0] + ".wasm"
    wasm = read(wasm_path)
    wasm_name = f"saltrafter.{sha(wasm)[:8]}.wasm"
    old_name = os.path.basename(wasm_path).encode()
    glue = read(glue_path)
    if old_name not in glue:
        sys.exit("The glue does not name its wasm file.")
    glue = glue.replace(old_name, wasm_name.encode())
    glue_name = f"saltrafter.{sha(glue)[:8]}.js"
    return glue_name, glue, wasm_name, wasm


def icons(icon_dir, rsvg):
    made = {"icon.svg": read(os.path.join(icon_dir, "icon.svg"))}
    with tempfile.TemporaryDirectory() as scratch:
        for source, name, side in PNGS:
            path = os.path.join(scratch, name)
            drawing = os.path.join(icon_dir, source)
            subprocess.run([rsvg, "-w", str(side), "-h", str(side), "-o", path, drawing], check=True)
            made[name] = read(path)
    return made


def main():
    web, icon_dir, glue_path, rsvg, out_dir = sys.argv[1:]
    glue_name, glue, wasm_name, wasm = program(glue_path)
    files = {glue_name: glue, wasm_name: wasm, **icons(icon_dir, rsvg)}
    for name in sorted(os.listdir(web)):
        if name.endswith((".css", ".js", ".webmanifest")):
            files[name] = read(os.path.join(web, name))
    page = fill(read(os.path.join(web, "index.html")).decode(),
                {"GLUE": glue_name, "WASM": wasm_name, "WASM_BYTES": str(len(wasm))})
    # The page names the version of all that it loads, itself as it is without that name.
    version = version_of({**files, "index.html": page.encode()})
    files["index.html"] = fill(page, {"VERSION_TEXT": version}).encode()
    listed = [["./" if name == "index.html" else name, sha(data)] for name, data in sorted(files.items())]
    worker = fill(read(os.path.join(web, "sw.js.in")).decode(),
                  {"VERSION": version, "FILES": json.dumps(listed, indent=2)})
    files["sw.js"] = worker.encode()

    fresh = out_dir + ".new"
    shutil.rmtree(fresh, ignore_errors=True)
    os.makedirs(fresh)
    for name, data in files.items():
        with open(os.path.join(fresh, name), "wb") as out:
            out.write(data)
    shutil.rmtree(out_dir, ignore_errors=True)
    os.rename(fresh, out_dir)
    print(f"Page {version}: {len(files)} files, {sum(map(len, files.values())) // 1024} kB")


main()
