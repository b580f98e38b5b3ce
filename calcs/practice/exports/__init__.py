"""A paper for a platform that marks it: its figures frozen, in the form of an open standard.

`items.py` says what is asked and how it is marked, whatever the form. Each form is written by a
module of its own: `moodle.py`, `qti.py` for two releases of QTI, `scorm.py`. `FORMS` in `forms.py`
lists them. An order can't be marked by pairs there, so it is asked pair by pair.
"""
