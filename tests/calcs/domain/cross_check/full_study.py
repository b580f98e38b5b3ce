"""The whole study of the cross-check, in a few minutes: `python -m` with the name of this file."""

from datetime import date

from build_tools.runtime import bundle
from calcs.engine.in_force import InForce
from calcs.engine.reference import Reference
from tests.calcs.domain.cross_check import study
from tests.calcs.domain.cross_check.trial import told


def main() -> None:
    """Print each figure as it comes."""
    ref = InForce(Reference(bundle.make()), date(2026, 11, 25))
    print("false alarms of the declared model", study.declared(10_000, ref))
    for at in (4, 5):
        print("power at", at, study.power(4000, at, ref))
    print("sound:", told(study.sound(4000, ref)))
    print("heavy tails:", told(study.sound(2000, ref, heavy=True)))
    print("wrong reading:", told(study.judged(study.wrong_readings(2000, 5, 15, ref))))
    for name, strong in (("strong", True), ("mild", False)):
        print(f"{name} fault:", told(study.judged(study.faulty(2000, strong=strong, ref=ref))))
    wider = study.faulty(2000, strong=True, ref=ref, wider=1.2)
    print("strong fault, noise 1.2 times:", told(study.judged(wider)))
    print("two wrong:", study.two_wrong(600, ref))


if __name__ == "__main__":
    main()
