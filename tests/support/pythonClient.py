"""Asks the Python client, for tests/link/python.test.ts.

Arguments: clients/python, the folder that protoc wrote to. Standard input: JSON, {"golden": [PATH of a binary message, ...],
"waits": [s since the newest Clearance, ...], "bearings": [rad, ...], "speed": m/s}. Standard output: JSON, one row of leeway a wait.
"""
import json
import sys

sys.path[:0] = sys.argv[1:3]
from rover import Rover  # noqa: E402

task = json.load(sys.stdin)
clock = [100.0]
rover = Rover("http://127.0.0.1:5339", now=lambda: clock[0])
unheard = [rover.leeway_towards(bearing) for bearing in task["bearings"]]
for path in task["golden"]:
    with open(path, "rb") as file:
        rover.take(file.read())
rows = []
for wait in task["waits"]:
    clock[0] = 100.0 + wait
    rows.append([rover.leeway_towards(bearing, task["speed"]) for bearing in task["bearings"]])
print(json.dumps({"unheard": unheard, "rows": rows, "rover": rover.hello.rover}))
