"""Asks a Fieldstop service, with Python's standard library alone.

    python3 fieldstop.py 56.6 -9.4 2027-03-20

FIELDSTOP_URL is the service, by default http://127.0.0.1:8787.
"""

import json
import os
import sys
import urllib.error
import urllib.parse
import urllib.request

SERVICE = os.environ.get("FIELDSTOP_URL", "http://127.0.0.1:8787")


class Problem(Exception):
    """A refused request, as problem+json (RFC 9457) tells of it."""

    def __init__(self, problem):
        super().__init__(problem["detail"])
        self.status = problem["status"]
        self.errors = problem.get("errors", [])


def call(path, query=None, body=None):
    """The JSON of an answer: a GET, or a POST where there is a body."""
    url = SERVICE + path + ("?" + urllib.parse.urlencode(query) if query else "")
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(url, data, {"Content-Type": "application/json"} if data else {})
    try:
        with urllib.request.urlopen(request, timeout=35) as response:
            return json.load(response)
    except urllib.error.HTTPError as error:
        if error.headers.get_content_type() != "application/problem+json":
            raise
        raise Problem(json.load(error)) from None


def main(latitude, longitude, date):
    day = call("/v1/light-windows", {"latitude": latitude, "longitude": longitude, "date": date})
    last = day["directLight"]["lastInstant"]
    print("direct light until", last)
    light = {"place": {"latitude": float(latitude), "longitude": float(longitude)}, "instant": last}
    settings = {"aperture": 11, "iso": 100, "filters": [{"kind": "nd", "stops": 6}]}
    shot = call("/v1/exposures/long", body={**light, **settings})
    corrected = shot["corrected"]
    # in failing light a shutter time may never be long enough
    print("f/11, ISO 100 behind 6 stops:", corrected["shutter"]["nominal"] if corrected["kind"] == "reached" else corrected["kind"])


if __name__ == "__main__":
    try:
        main(*sys.argv[1:4])
    except Problem as problem:
        sys.exit("\n".join([str(problem)] + [error["pointer"] + ": " + error["detail"] for error in problem.errors]))
