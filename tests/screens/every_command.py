#!/usr/bin/env python3
"""Every command has help, an example that runs, a place in the manual page, the completions and the
README, a screen test, and, where it answers --json, a schema."""
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
TOOL = pathlib.Path(sys.argv[1]).resolve()
WITHOUT_SCHEMA = {"pages"}  # it prints the build's pages, and no JSON
wrong = []


def run(*words, **more):
    return subprocess.run([str(TOOL), *words], capture_output=True, text=True, timeout=120, **more)


def need(condition, text):
    if not condition:
        wrong.append(text)


def main():
    commands = [line.split("\t") for line in run("pages", "list").stdout.splitlines()]
    need(len(commands) > 10, f"only {len(commands)} commands listed")
    man, overview = run("pages", "man").stdout, run("--help").stdout
    shells = {shell: run("pages", shell).stdout for shell in ("bash", "zsh", "fish")}
    readme = ROOT / "README.md"
    readme = readme.read_text() if readme.exists() else ""
    screens = "\n".join(f.read_text() for f in (ROOT / "tests" / "screens").rglob("*.test"))
    with tempfile.TemporaryDirectory(prefix="plumule-every-") as folder:
        run("demo", f"{folder}/demo")
        (pathlib.Path(folder) / "flat-log.csv").write_text(
            "sowing,sown_on,seeds,counted_on,emerged\nZ1,2026-04-01,50,2026-04-10,3\n")
        for name, summary, example in commands:
            help_text = run(name, "--help")
            need(help_text.returncode == 0 and f"plumule {name}" in help_text.stdout,
                 f"{name}: no help")
            need(0 < len(summary) <= 27, f"{name}: a summary of {len(summary)} letters")
            need(re.match(r"plumule (--log \S+ )?" + name, example), f"{name}: no example of its own")
            if name != "pages":
                need(f"\n  {name} " in overview or f" {name} " in overview, f"{name}: not in --help")
                need(f".SS plumule {name}" in man, f"{name}: not in the manual page")
                need(f"plumule {name}" in readme or f"`{name}`" in readme, f"{name}: not in README.md")
                for shell, text in shells.items():
                    need(re.search(rf"\b{name}\b", text), f"{name}: no {shell} completion")
            need(re.search(rf"plumule (--log \S+ )?{name}\b", screens), f"{name}: no screen test")
            if name not in WITHOUT_SCHEMA:
                need((ROOT / "schema" / "json" / f"{name}.json").exists(), f"{name}: no JSON schema")
            copy = pathlib.Path(folder) / f"{name}.db"
            copy.write_bytes((pathlib.Path(folder) / "demo" / "plumule.db").read_bytes())
            ran = subprocess.run(
                ["/bin/bash", "-c", example.replace("/tmp/", f"{folder}/{name}-")], cwd=folder,
                capture_output=True, text=True, timeout=120,
                env={"PATH": f"{TOOL.parent}:/usr/bin:/bin", "PLUMULE_LOG": str(copy),
                     "HOME": folder, "TZ": "UTC"})
            need(ran.returncode == 0, f"{name}: its example ends with {ran.returncode}: {example}\n"
                                      f"  {ran.stderr.strip()}")
    print("\n".join(wrong) if wrong else f"{len(commands)} commands, all told of and all run")
    sys.exit(1 if wrong else 0)


main()
