"""Nobody who writes waits for the other end of a pipe: neither for one who reads an export slowly, nor
for one who still types what is to be imported; and an import answers once its rows are kept."""
import argparse
import json
import pathlib
import subprocess
import tempfile


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--plumule", required=True)
    plumule = parser.parse_args().plumule
    with tempfile.TemporaryDirectory() as name:
        log = str(pathlib.Path(name) / "log.db")

        def command(*words):
            return [plumule, "--log", log, "--today", "2026-04-09", *words]

        def sow(label):  # would be refused after five seconds of a locked file
            subprocess.run(command("sow", label, "--seeds", "5", "--on", "2026-04-01"), check=True,
                           stdout=subprocess.DEVNULL, timeout=60)

        head = "sowing,sown_on,counted_on,emerged,seeds\n"
        rows = "".join(f"S{k},2026-04-01,2026-04-08,3,10\n" for k in range(9000))
        pipe = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
        subprocess.run(command("init"), check=True, stdout=subprocess.DEVNULL)
        importing = subprocess.Popen(command("import", "-", "--json"), **pipe)
        importing.stdin.write(head + rows)
        importing.stdin.flush()  # more than a pipe holds: it is being read
        sow("A1")
        answer = json.loads(importing.communicate()[0])
        assert importing.returncode == 0 and answer["new"]["sowings"] == 9000, answer

        exporting = subprocess.Popen(command("export"), stdout=subprocess.PIPE, text=True,
                                     stderr=subprocess.DEVNULL)
        first = exporting.stdout.readline()  # it has begun, and more is to come than a pipe holds
        sow("A2")
        text = first + exporting.communicate()[0]
        assert exporting.returncode == 0 and text.count("\n") == 9002, text.count("\n")
        assert "\nA2," not in text


main()
