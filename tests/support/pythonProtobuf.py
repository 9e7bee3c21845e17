"""Reads and writes messages with Debian's python3-protobuf, for tests/support/pythonProtobuf.ts.

Standard input: one JSON line a message, {"type", "proto": BASE64} or {"type", "json": TEXT}.
Standard output: one JSON line each, {"proto": BASE64, "json": TEXT}, or {"error": TEXT} where it was not accepted.
Argument: the folder that protoc --python_out wrote to.
"""
import base64
import importlib
import json
import os
import sys

folder = sys.argv[1]
sys.path.insert(0, folder)
from google.protobuf import json_format  # noqa: E402

TYPES = {}
for name in sorted(os.listdir(os.path.join(folder, "leeway/v1"))):
    if name.endswith("_pb2.py"):
        module = importlib.import_module("leeway.v1." + name[:-3])
        for message in module.DESCRIPTOR.message_types_by_name:
            TYPES[message] = getattr(module, message)

for line in sys.stdin:
    task = json.loads(line)
    message = TYPES[task["type"]]()
    try:
        if "proto" in task:
            message.ParseFromString(base64.b64decode(task["proto"]))
        else:
            json_format.Parse(task["json"], message)
        answer = {
            "proto": base64.b64encode(message.SerializeToString(deterministic=True)).decode(),
            "json": json_format.MessageToJson(message, including_default_value_fields=True, indent=None),
        }
    except Exception as error:  # whatever it is: the message was not accepted
        answer = {"error": "%s: %s" % (type(error).__name__, error)}
    print(json.dumps(answer))
