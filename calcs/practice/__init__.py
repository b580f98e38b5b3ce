"""Questions for revision: drawn by a seed, answered by the calculators, each slip named.

A template is `content/questions/STEM.yaml`; its keys are in `sources/schemas/question.yaml` of
`build_tools/`. Its figures are drawn on an instrument's step. `make` has functions of `made.py`;
`holds` says what the calculators must find of them, and others are drawn until it is so.

The key is never typed. It is an answer or a verdict of a calculator, an act of a step, a word. So a
page that changes changes its questions, or `check` names each that no longer fits.

A slip is a change of the inputs or of the answer (`slips.py`), its words are in
`content/_slips.yaml`. Figures are drawn again until each slip stands clear of the right answer. A
wrong answer is told by the slips that lead to it.

What is read off an instrument is `drawn`: `gauges/` has the instruments, each with the same in
words. The build, the browser and paper show one drawing.

A figure that is not `published` or `secondary` is given in the stem: `check` draws each question
and looks at what its answer rests on. Steps are put in order by `pairs`: what may stand either way
round is not marked wrong.

The browser's Python starts without this folder. The page of practice brings it, with the templates:
`build_tools/runtime/practice_program.py`. `python -m calcs practice` lists the questions, and
`practice ID --seed 7 --answer ...` marks. `python -m tests.calcs.practice.proof` tries every seed.

A paper is `content/papers/STEM.yaml`: how many questions of which topics and kinds. `papers.py`
picks them by seed, `paper_marks.py` marks, and `python -m calcs paper STEM --seed 7` prints them.
`exports/` writes one for a platform: `--as moodle FILE`. What a class handed in is read by
`handed_in.py` and counted by `class_count.py`, for a page and for the command `results` alike.
"""
