"""Run inside Pyodide by ``kernel_in_node.mjs``: answer geometry jobs with the browser kernel.

``batch`` and ``jobs_text`` are set by the harness; the value of the last line is the answer.
"""

import json
import sys
import time

sys.path.insert(0, "/site")

from engine.geometry.browser import Browser


def tupled(value):
    """Make tuples of lists all the way down, which is what the engine takes."""
    return tuple(tupled(item) for item in value) if isinstance(value, list) else value


def answer(kernel, job):
    """Do one job, ``{"verb": …, "arguments": […]}``; a refusal comes back as its text."""
    started = time.perf_counter()
    try:
        value = getattr(kernel, job["verb"])(*tupled(job["arguments"]))
    except Exception as error:  # whatever GEOS throws is an answer here
        return {"error": str(error)}
    return {"value": value, "ms": (time.perf_counter() - started) * 1000}


browser = Browser(batch)  # noqa: F821
json.dumps([answer(browser, job) for job in json.loads(jobs_text)])  # noqa: F821
