#!/bin/sh
# Linux, macOS: sh start.sh. Takes the newest Python here that the stick may know.
cd "$(dirname "$0")" || exit 1
for python in python3 python3.14 python3.13 python3.12 python3.11; do
  if "$python" -c 'import json, sys; v = "%d.%d" % sys.version_info[:2]
sys.exit(v not in json.load(open("stick.json"))["python"])' 2>/dev/null; then
    exec "$python" start.py "$@"
  fi
done
exec python3 start.py "$@"
