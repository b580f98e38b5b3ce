"""The front end in Node: `node --test` runs the programs here, from tests/test_runtime.py."""
