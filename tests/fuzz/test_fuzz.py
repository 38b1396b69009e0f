"""A short run of the fuzzers, and what they found once."""

from __future__ import annotations

import random

import pytest

from checker import check
from tests.fuzz.held import held
from tests.fuzz.lists import complaints, mutated, seeds

TELLING = "board half\npart UU1 controller-5v\npart K1 relay-5v RAILil A1 A2, x\npart K2 relay-5v RAILil A1 A2, 1 con\n"
FOUND_ONCE: list[bytes] = [TELLING.encode(),
                           b"", b"\x00", b"\xff\xfe", b"part", b"part R", b"wire a1 to", b'title "', b"a" * 3000,
                           b"part SV1 servo # V+ \x1c",
                           # so much that is no text that a blank less, or a line end more, makes it none at all
                           b"# Brancook-first\ntitnS1.minus1 to R2.1\nwir\npin U\xb01.D2, U1.D3, U1.D4 "
                           b"\x11\x00\x00\x00\x00\x00\x00\x00eED`  da  when U2.D4 lo",
                           b' S\x03\xff\xff\xffS\x03\xff #: damage transistor-legse "Score bonect\xb0ion  #: damage transis'
                           b'\xff\xff\x06\x03\xff\xff\xff\xff\xfe\xff\xfft"h\x06\x03\xff\xff\xff\xff\xfe\xff\xfft"h',
                           "part R2 470 ³ in c11 c21\npart R3 470 c11 ³".encode(),
                           # a comment begins where the plain quotes say, whatever kind was typed
                           'title""«««#"'.encode(),
                           # a blank at the end of a line decides nothing
                           b"b and the ", b"a7 to K1 y-r\nK1 ",
                           # hardly text: shorter by its empty lines it is read, longer by the word part it is not
                           b"# Tpam: ag\n\n\n\n\r" + b"\xf5" * 16 + b"r! -31\nwireb9D pwm\npin"
                           b"\x00\x00\x00\x00\x00\x00\x00\x00\x08U1.Z\"U1 "
                           b"row kkt D8 output\n and U1."]
TEXTS = seeds()


@pytest.mark.parametrize("content", FOUND_ONCE)
def test_bytes_that_broke_the_reader_once_do_not_any_more(content: bytes) -> None:
    held(content)


@pytest.mark.parametrize("seed", range(100))
def test_any_bytes_are_read(seed: int) -> None:
    chance = random.Random(seed)
    text = mutated(seed, TEXTS).encode()
    at = chance.randrange(len(text) + 1)

    held(text[:at] + chance.randbytes(chance.randint(0, 6)) + text[at:])


@pytest.mark.parametrize("seed", range(40))
def test_any_mutated_list_gets_a_report(seed: int) -> None:
    assert [] == list(complaints(check(mutated(seed, TEXTS))))
