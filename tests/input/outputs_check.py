#!/usr/bin/python3
"""No command loses a file: not its input, not another output, not the old one where the new one cannot be finished.

Calls `$STEADYFIRE`, and looks at what lies in the folder before and after. The full disk is /dev/full, a limit on the size of files
(RLIMIT_FSIZE) or a folder that takes none (/proc); kills are SIGKILL after times that are drawn.
"""

import json
import os
import pathlib
import resource
import signal
import stat
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
SCENARIOS = ROOT / "scenarios"
TABLES = ["burns.csv", "events.csv", "series.csv", "zones.csv"]


class Check:
    def __init__(self, program, folder):
        self.program, self.folder, self.failures = program, folder, []
        house = (SCENARIOS / "four_zone_house.toml").read_text()
        self.put("house.toml", house)
        self.put("year.toml", house.replace('duration = "1 d"', 'duration = "1 yr"'))
        (folder / "weather").mkdir()
        self.put("weather/invented_cold_coast.csv", (SCENARIOS / "weather/invented_cold_coast.csv").read_text())
        self.put("coast.toml", (SCENARIOS / "cold_coast_year.toml").read_text())
        self.put("night.toml", (SCENARIOS / "night_setback.toml").read_text())
        self.put("log.csv", (SCENARIOS / "logs/night_setback.csv").read_text())
        self.put("call.toml", (SCENARIOS / "counter/phone_call.toml").read_text())
        self.put("whole.toml", (SCENARIOS / "whole_job.toml").read_text())
        self.put("read.csv", (SCENARIOS / "readings/whole_job.toml").read_text())
        self.put("study.toml", 'format = 1\ntitle = "S"\n[study]\nscenario = "house.toml"\nduration = "1 h"\nfigures = ["fuel"]\n'
                               '[[parameter]]\nname = "fire"\nat = "boiler.minimum_input"\nvalues = ["16 kBtu/h", "20 kBtu/h"]\n')
        os.link(folder / "house.toml", folder / "second_name")
        os.symlink("house.toml", folder / "link")
        os.symlink("weather", folder / "same_weather")

    def put(self, name, text):
        (self.folder / name).write_text(text)

    def text(self, name):
        return (self.folder / name).read_bytes()

    def ask(self, good, *words):
        if not good:
            self.failures.append(" ".join(str(w) for w in words))

    def call(self, *arguments, **more):
        return subprocess.run([self.program, *arguments], cwd=self.folder, capture_output=True, text=True, timeout=30, **more)

    def lies(self):
        return {str(p.relative_to(self.folder)): (p.lstat().st_mode, p.read_bytes()) for p in sorted(self.folder.rglob("*"))
                if p.is_file()}

    def refused(self):
        """Exit code 2 with both options named, at once, and nothing on the disk differs."""
        for arguments, words in [
            (("run", "house.toml", "--report", "house.toml"), "--report"),
            (("run", "house.toml", "--json", "./weather/../house.toml"), "--json"),
            (("run", "house.toml", "--report", "second_name"), "--report would replace a file that this command reads"),
            (("run", "house.toml", "--report", "link"), "--report"),
            (("run", "house.toml", "--report", "coast.toml"), "--report would replace a TOML file"),
            (("run", "house.toml", "--plan", "call.toml"), "--plan would replace a TOML file"),
            (("run", "coast.toml", "--report", "weather/invented_cold_coast.csv"),
             "--report would replace a file that this command reads"),
            (("run", "coast.toml", "--json", "same_weather/invented_cold_coast.csv"), "--json would replace a file that"),
            (("run", "house.toml", "--report", "new.html", "--json", "./new.html"), "--json and --report write the same file"),
            (("run", "house.toml", "--report", "new", "--csv", "new"), "--report and --csv write the same"),
            (("run", "house.toml", "--json", "weather/zones.csv", "--csv", "same_weather"), "--json and --csv write the same file"),
            (("run", "house.toml", "--json", "-", "--report", "/dev/stdout"), "--json and --report both go to standard output"),
            (("flows", "house.toml", "--json", "house.toml"), "--json would replace a TOML file"),
            (("check", "house.toml", "--materials", "m", "--report", "m"), "--report and --materials write the same file"),
            (("check", "whole.toml", "--readings", "read.csv", "--materials", "read.csv"), "--materials would replace a file that"),
            (("tune", "house.toml", "--write", "t.toml", "--report", "t.toml"), "--write and --report write the same file"),
            (("advise", "house.toml", "--write", "t.toml", "--json", "t.toml"), "--json and --write write the same file"),
            (("arrangements", "house.toml", "--report", "house.toml"), "--report would replace a TOML file"),
            (("arrangements", "house.toml", "--report", "no_folder/x"), "error[E108]"),
            (("fit", "night.toml", "log.csv", "--report", "log.csv"), "--report would replace a file that this command reads"),
            (("draw", "house.toml", "--out", "house.toml"), "--out would replace a TOML file"),
            (("new", "new.toml", "--answers", "new.toml"), "error[E"),
            (("sweep", "study.toml", "--csv", "study.store"), "--store and --csv write the same file"),
            (("sweep", "study.toml", "--store", "house.toml", "--afresh"), "--store would replace a TOML file"),
            (("sweep", "study.toml", "--json", "study.toml"), "--json would replace a TOML file"),
        ]:
            before, began = self.lies(), time.monotonic()
            run = self.call(*arguments)
            self.ask(run.returncode == 2 and words in run.stderr and "error[E" in run.stderr, arguments, "exit code", run.returncode,
                     "and it says", run.stderr)
            self.ask(self.lies() == before, arguments, "changed", [n for n in set(before) | set(self.lies())
                                                                  if before.get(n) != self.lies().get(n)])
            self.ask(time.monotonic() - began < 5, arguments, "took", time.monotonic() - began)

    def stores_are_kept(self):
        self.ask(self.call("sweep", "study.toml").returncode == 0, "the small study does not run")
        before = self.text("study.store")
        run = self.call("run", "house.toml", "--report", "study.store")
        self.ask(run.returncode == 2 and "--report would replace a store" in run.stderr and self.text("study.store") == before,
                 "a store is replaced by a report:", run.stderr)
        (self.folder / "study.store").unlink()

    def looked_at_first(self):
        """What cannot be written is told before a year is simulated."""
        for arguments in [("run", "year.toml", "--json", "/proc/x.json"), ("run", "year.toml", "--csv", "/proc/x"),
                          ("check", "year.toml", "--report", "/proc/x.html"), ("tune", "year.toml", "--write", "/proc/x.toml"),
                          ("advise", "year.toml", "--json", "/proc/x.json"), ("arrangements", "year.toml", "--report", "/proc/x"),
                          ("fit", "night.toml", "log.csv", "--json", "/proc/x.json"), ("sweep", "study.toml", "--csv", "/proc/x.csv")]:
            began = time.monotonic()
            run = self.call(*arguments)
            self.ask(run.returncode == 4 and "cannot write /proc/x" in run.stderr and time.monotonic() - began < 4, arguments,
                     "exit code", run.returncode, "after", time.monotonic() - began, "s, and it says", run.stderr)

    def full_disk(self):
        """What cannot be finished leaves the old files as they were; what can is written, and told before."""
        self.ask(self.call("run", "house.toml", "--csv", "tables").returncode == 0, "no tables")
        old = {name: self.text(f"tables/{name}") for name in TABLES}
        run = self.call("run", "house.toml", "--csv", "tables", "--json", "new.json", "--report", "new.html",
                        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (9000, 9000)))
        self.ask(run.returncode == 4 and "cannot write" in run.stderr and "File too large" in run.stderr, "with files of 9000 bytes:",
                 run.returncode, run.stderr)
        self.ask("starts in" in run.stdout, "the summary is not printed before the files:", run.stdout)
        self.ask(all(len(self.text(f"tables/{n}")) == len(old[n]) for n in TABLES), "a full disk cut tables")
        self.ask(not (self.folder / "new.json").exists(), "a file that was cut has its name")
        self.ask(sorted(p.name for p in (self.folder / "tables").iterdir()) == TABLES, "something is left among the tables")
        (self.folder / "tables/zones.csv").unlink()
        os.symlink("/dev/full", self.folder / "tables/zones.csv")
        run = self.call("run", "house.toml", "--csv", "tables", "--json", "new.json", "--quiet")
        self.ask(run.returncode == 4 and "zones.csv: No space left" in run.stderr, "a table into a full disk:", run.returncode, run.stderr)
        self.ask(json.loads(self.text("new.json"))["burner"], "what could be written is lost with what could not")
        (self.folder / "tables/zones.csv").unlink()
        for option in "--json", "--report", "--plan":
            run = self.call("run", "house.toml", option, "/dev/full", "--quiet")
            self.ask(run.returncode == 4 and "cannot write /dev/full: No space left" in run.stderr, option, run.returncode, run.stderr)

    def killed(self):
        """A kill at any moment leaves each file as it was or as it will be."""
        self.call("run", "house.toml", "--csv", "tables")
        old = {name: self.text(f"tables/{name}") for name in TABLES}
        began = time.monotonic()
        self.call("run", "house.toml", "--csv", "tables", "--units", "si")
        took = time.monotonic() - began
        new = {name: self.text(f"tables/{name}") for name in TABLES}
        for i in range(12):
            run = subprocess.Popen([self.program, "run", "house.toml", "--csv", "tables"], cwd=self.folder, stdout=subprocess.DEVNULL)
            time.sleep(took * (0.8 + 0.03 * i))
            run.kill()
            run.wait()
            for name in TABLES:
                self.ask(self.text(f"tables/{name}") in (old[name], new[name]), "a kill tore", name)
        for p in (self.folder / "tables").glob(".*.part"):
            p.unlink()

    def asked_to_end(self):
        """A signal leaves nothing half done beside the outputs, whether the command listens or not."""
        for command in ("flows", "twelve.toml", "--json", "twelve.json"), ("run", "year.toml", "--json", "year.json"):
            self.put("twelve.toml", (SCENARIOS / "twelve_zones.toml").read_text())
            for number in signal.SIGINT, signal.SIGTERM, signal.SIGHUP:
                run = subprocess.Popen([self.program, *command], cwd=self.folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
                time.sleep(0.5)
                run.send_signal(number)
                run.communicate(timeout=60)
                self.ask(run.returncode in (-number, 128 + number), command, "by signal", number, "ends with", run.returncode)
                self.ask(not list(self.folder.rglob(".*.part")), command, "by signal", number, "leaves a part of a file")

    def heard(self):
        """SIGTERM and SIGHUP keep what was done, as Ctrl-C does; under nohup a SIGHUP ends nothing."""
        for number in signal.SIGINT, signal.SIGTERM, signal.SIGHUP:
            run = subprocess.Popen([self.program, "run", "year.toml", "--json", f"{number}.json"], cwd=self.folder,
                                   stdout=subprocess.PIPE, text=True)
            time.sleep(1)
            run.send_signal(number)
            said = run.communicate(timeout=60)[0]
            self.ask(run.returncode == 128 + number and "starts in" in said, "run by signal", number, run.returncode, said)
            self.ask(json.loads(self.text(f"{number}.json"))["incomplete"], "what ran until signal", number, "is not kept")
        run = subprocess.Popen(["nohup", self.program, "run", "house.toml", "--json", "nohup.json"], cwd=self.folder,
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(0.1)
        run.send_signal(signal.SIGHUP)
        self.ask(run.wait() == 0 and (self.folder / "nohup.json").exists(), "a SIGHUP under nohup ends with", run.returncode)

    def replaced(self):
        """A file that is replaced keeps its permissions, and a link stays a link."""
        self.put("old.json", "{}")
        (self.folder / "old.json").chmod(0o640)
        os.symlink("old.json", self.folder / "to_old")
        os.symlink("not_yet.json", self.folder / "to_none")
        for name in "to_old", "to_none":
            run = self.call("flows", "house.toml", "--json", name, "--quiet")
            self.ask(run.returncode == 0 and (self.folder / name).is_symlink(), name, "is no link any more", run.stderr)
            self.ask(json.loads(self.text(name))["format"] == 1, "what", name, "leads to is not written")
        self.ask(stat.S_IMODE((self.folder / "old.json").stat().st_mode) == 0o640, "a replaced file has other permissions")
        self.ask(stat.S_IMODE((self.folder / "not_yet.json").stat().st_mode) == 0o666 & ~umask(), "a new file has odd permissions")

    def devices(self):
        """Standard output by its three names, to a pipe, to a file and to the place that takes all."""
        wanted = self.call("flows", "house.toml", "--json", "-").stdout
        self.ask(json.loads(wanted)["format"] == 1, "--json -")
        self.ask(self.call("flows", "house.toml", "--json", "/dev/stdout").stdout == wanted, "--json /dev/stdout into a pipe")
        with open(self.folder / "out.txt", "w") as out:
            subprocess.run([self.program, "flows", "house.toml", "--json", "/dev/stdout"], cwd=self.folder, stdout=out, check=True)
        self.ask(self.text("out.txt").decode() == wanted, "--json /dev/stdout into a file")
        run = self.call("run", "house.toml", "--json", "/dev/null", "--report", "/dev/null")
        self.ask(run.returncode == 0 and "starts in" in run.stdout, "two outputs to /dev/null", run.stderr)
        run = self.call("draw", "house.toml")
        self.ask(run.stdout.startswith("<?xml") or run.stdout.startswith("<svg"), "draw to standard output", run.stdout[:60])
        read, write = os.pipe()
        run = subprocess.run([self.program, "check", "house.toml", "--materials", f"/dev/fd/{write}", "--quiet"], cwd=self.folder,
                             pass_fds=[write])
        os.close(write)
        with os.fdopen(read) as pipe:
            self.ask("," in pipe.read(), "a pipe gets nothing")
        # who stops reading loses no file
        run = subprocess.Popen([self.program, "run", "house.toml", "--report", "piped.html"], cwd=self.folder, stdout=subprocess.PIPE,
                               stderr=subprocess.PIPE)
        run.stdout.close()
        said = run.stderr.read()
        self.ask(run.wait() in (-signal.SIGPIPE, 128 + signal.SIGPIPE) and said == b"", "a closed pipe:", run.returncode, said)
        self.ask((self.folder / "piped.html").exists(), "a closed pipe costs the report")


def umask():
    now = os.umask(0o22)
    os.umask(now)
    return now


def main():
    program = os.environ.get("STEADYFIRE")
    if not program:
        sys.exit("set STEADYFIRE to the program")
    failures = []
    with tempfile.TemporaryDirectory() as folder:
        check = Check(str(pathlib.Path(program).resolve()), pathlib.Path(folder))
        for ask in (check.refused, check.stores_are_kept, check.looked_at_first, check.full_disk, check.killed, check.asked_to_end,
                    check.heard, check.replaced, check.devices):
            try:
                ask()
            except Exception as e:  # noqa: BLE001 - the other questions are asked all the same
                check.failures.append(f"{ask.__name__}: {e!r}")
        failures = check.failures
    print("\n".join(failures) or "every output is as it should be")
    sys.exit(1 if failures else 0)


main()
