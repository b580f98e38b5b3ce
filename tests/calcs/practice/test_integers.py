"""The generator against what its author published, and the hash against its RFC."""

from calcs.practice.integers import Integers, hash_of

# The demonstration program of pcg-c 0.94, `pcg32-demo`, first round: seed 42, stream 54. One
# generator draws all of it, in this order.
WORDS = "a15c02b7 7b47f409 ba1d3330 83d2f293 bfa4784b cbed606e"
COINS = "HHTTTHTHHHTHTTTHHHHHTTTHHHTHTHTHTTHTTTHHHHHHTTTTHHTTTTTHTTTTTTTHT"
ROLLS = "3 4 1 1 2 2 3 2 4 3 2 4 3 3 5 2 3 1 3 1 5 1 4 1 5 6 4 6 6 2 6 3 3"
CARDS = (
    "Qd Ks 6d 3s 3d 4c 3h Td Kc 5c Jh Kd Jd As 4s 4h Ad Th Ac Jc 7s Qs 2s 7h Kh 2d 6c Ah 4d Qh 9h "
    "6s 5s 2c 9c Ts 8d 9s 3c 8c Js 5d 2h 6h 7d 8s 9d 5h 8h Qc 7c Tc"
)


def test_words_coins_rolls_and_cards_are_those_published() -> None:
    integers = Integers(42, 54)
    assert " ".join(f"{integers.word():08x}" for _ in range(6)) == WORDS
    assert "".join("TH"[integers.below(2)] for _ in range(65)) == COINS
    assert " ".join(str(integers.below(6) + 1) for _ in range(33)) == ROLLS
    # The program shuffles from the last card down, as `shuffled` does.
    cards = integers.shuffled([*range(52)])
    # It shows a card as its number and suit: 13 numbers, suits in the order hcds.
    shown = ["A23456789TJQK"[card // 4] + "hcds"[card % 4] for card in cards]
    assert " ".join(shown) == CARDS


def test_the_hash_is_that_of_its_rfc() -> None:
    # RFC 9923, appendix: FNV-1a of 64 bits of "", "a" and "foobar".
    assert hash_of("") == 0xCBF29CE484222325
    assert hash_of("a") == 0xAF63DC4C8601EC8C
    assert hash_of("foobar") == 0x85944171F73967E8
