"""The cryptography that sealing rests on, against the vectors of its standards (package cryptography-vectors, RFCs)."""

from collections.abc import Iterator
from hashlib import pbkdf2_hmac

import cryptography
import cryptography_vectors
import pytest
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.kdf.pbkdf2 import PBKDF2HMAC
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from reportgen.sealing.passphrases import as_typed, new_passphrase
from reportgen.sealing.seal import ROUNDS, stretched, wrapped


def _records(path: str, first: str) -> Iterator[dict[str, str]]:
    """The records of a vector file, by name in capitals: each from a line `first = ...` to the next."""
    record: dict[str, str] = {}
    with cryptography_vectors.open_vector_file(path, "r") as lines:
        for line in map(str.strip, lines):
            name, equals, value = (part.strip() for part in line.partition("="))
            if name.upper() == first:
                if record:
                    yield record
                record = {first: value}
            elif record and (equals or line == "FAIL") and not line.startswith(("#", "[")):
                record[name.upper()] = value
    yield record


def test_the_vectors_are_those_of_the_library_in_use() -> None:
    assert cryptography_vectors.__version__ == cryptography.__version__


@pytest.mark.parametrize(
    ("passphrase", "salt", "rounds", "key"),
    [
        ("passwd", "salt", 1, "55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc"
         "49ca9cccf179b645991664b39d77ef317c71b845b1e30bd509112041d3a19783"),
        ("Password", "NaCl", 80000, "4ddcd8f60b98be21830cee5ef22701f9641a4418d04c0414aeff08876b34ab56"
         "a1d425a1225833549adb841b51c9b3176a272bdebba1d078478f62b397f33c8d"),
    ],
)  # fmt: skip
def test_pbkdf2_hmac_sha256_gives_the_vectors_of_rfc_7914_section_11(
    passphrase: str, salt: str, rounds: int, key: str
) -> None:
    wanted = bytes.fromhex(key)
    assert PBKDF2HMAC(SHA256(), len(wanted), salt.encode(), rounds).derive(passphrase.encode()) == wanted


def test_a_passphrase_is_stretched_by_that_function_and_600_000_rounds() -> None:
    passphrase = as_typed(new_passphrase())
    assert ROUNDS >= 600_000
    assert stretched(passphrase, b"0123456789abcdef") == pbkdf2_hmac(
        "sha256", passphrase.encode(), b"0123456789abcdef", ROUNDS, 32
    )


def test_scrypt_gives_the_vectors_of_rfc_7914_section_12() -> None:
    found = list(_records("KDF/scrypt.txt", "COUNT"))
    assert len(found) >= 4
    for one in found:
        n, r, p, length = (int(one[name]) for name in ("N", "R", "P", "LENGTH"))
        if n < 1 << 20:  # the largest takes a gigabyte
            made = Scrypt(one["SALT"].encode(), length, n, r, p).derive(one["PASSWORD"].encode())
            assert made.hex() == one["DERIVED_KEY"].replace(" ", "")


def test_hkdf_sha256_gives_the_vectors_of_rfc_5869() -> None:
    found = list(_records("KDF/rfc-5869-HKDF-SHA256.txt", "COUNT"))
    assert len(found) == 3
    for one in found:
        hkdf = HKDF(SHA256(), int(one["L"]), bytes.fromhex(one["SALT"]), bytes.fromhex(one["INFO"]))
        assert hkdf.derive(bytes.fromhex(one["IKM"])).hex() == one["OKM"]


def test_aes_256_gcm_gives_the_vectors_of_nist() -> None:
    """All of the file with nonces of 96 bits and whole tags, as we use them; what shall fail is refused."""
    opened = refused = 0
    for one in _records("ciphers/AES/GCM/gcmDecrypt256.rsp", "COUNT"):
        nonce, tag = bytes.fromhex(one["IV"]), bytes.fromhex(one["TAG"])
        if len(nonce) != 12 or len(tag) != 16:
            continue
        sealed, bound = bytes.fromhex(one["CT"]) + tag, bytes.fromhex(one["AAD"])
        gcm = AESGCM(bytes.fromhex(one["KEY"]))
        if "FAIL" in one:
            with pytest.raises(InvalidTag):
                gcm.decrypt(nonce, sealed, bound)
            refused += 1
        else:
            text = gcm.decrypt(nonce, sealed, bound)
            assert text.hex() == one["PT"]
            assert gcm.encrypt(nonce, text, bound) == sealed
            opened += 1
    assert min(opened, refused) > 100


def test_keys_are_wrapped_as_rfc_3394_section_4_6_has_it() -> None:
    under = bytes.fromhex("000102030405060708090A0B0C0D0E0F101112131415161718191A1B1C1D1E1F")
    key = bytes.fromhex("00112233445566778899AABBCCDDEEFF000102030405060708090A0B0C0D0E0F")
    wanted = "28C9F404C4B810F4CBCCB35CFB87F8263F5786E2D80ED326CBC7F0E71A99F43BFB988B9B7A02DD21"
    assert wrapped(key, under).hex().upper() == wanted


def test_keys_are_wrapped_as_the_vectors_of_nist_have_it() -> None:
    found = list(_records("keywrap/kwtestvectors/KW_AE_256.txt", "COUNT"))
    assert len(found) > 100
    for one in found:
        assert wrapped(bytes.fromhex(one["P"]), bytes.fromhex(one["K"])).hex() == one["C"]
