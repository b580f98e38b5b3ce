"""The front end in Node: `tests/runtime/test_runtime.py` runs what lies here by `node --test`."""
