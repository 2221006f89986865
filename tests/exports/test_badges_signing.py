"""Signatures against what others published: the Open Badges specification's vector, base 58, contexts."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from brakecourse.errors import CourseError
from brakecourse.exports import signing
from brakecourse.exports.signing import (
    CREDENTIALS,
    OPEN_BADGES,
    did_of,
    hash_data,
    is_signed_by,
    key_of,
    signed,
)
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from hypothesis import given
from hypothesis import strategies as st

VECTOR = json.loads(
    (Path(__file__).with_name("vectors") / "open_badges_signing.json").read_text(encoding="utf-8")
)
KEY = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(VECTOR["private_key_hex"]))


@pytest.fixture(autouse=True)
def no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing may be fetched: whoever asks for a socket fails the test."""

    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("the network was asked for")

    monkeypatch.setattr("socket.socket.connect", refuse)
    monkeypatch.setattr("socket.create_connection", refuse)
    monkeypatch.setattr("socket.getaddrinfo", refuse)


def test_the_specifications_own_vector_bit_for_bit() -> None:
    """Source: Open Badges 3.0 Implementation Guide, "Linked Data Proof Test Vector" (vectors/README.md)."""
    out = signed(VECTOR["document"], KEY, VECTOR["verification_method"], VECTOR["created"])
    assert out["proof"]["proofValue"] == VECTOR["proof_value"]
    proof = {name: value for name, value in out["proof"].items() if name != "proofValue"}
    hashes = hash_data(VECTOR["document"], proof).hex()
    assert hashes == VECTOR["proof_sha256"] + VECTOR["document_sha256"]
    assert is_signed_by(out, KEY.public_key())
    assert "proof" not in VECTOR["document"]  # what was given stays as it was


def test_a_key_and_its_name_lead_to_each_other() -> None:
    did = did_of(KEY.public_key())
    assert did == f"did:key:{VECTOR['public_key_multibase']}"
    assert key_of(did).public_bytes_raw().hex() == VECTOR["public_key_hex"]


@pytest.mark.parametrize(
    "did", ["did:key:z6Mk", "did:web:school.example", "", "did:key:z0OIl", "did:key:z" + "1" * 47]
)
def test_what_is_no_key_is_refused(did: str) -> None:
    with pytest.raises(ValueError):
        key_of(did)


@given(st.binary(max_size=80))
def test_base_58_goes_there_and_back(content: bytes) -> None:
    assert signing.from_base58(signing.base58(content)) == content


@given(st.binary(max_size=80))
def test_base_58_is_that_of_another_library(content: bytes) -> None:
    """Outside check: openbadgeslib's own base 58."""
    from openbadgeslib.ob3.did import _b58btc_encode

    assert signing.base58(content) == _b58btc_encode(content)


def test_the_contexts_are_the_published_files() -> None:
    """Fingerprints as openbadgeslib 4.6.3 tells them for the files it fetched from the two addresses."""
    folder = Path(signing.__file__).with_name("contexts")
    found = {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in folder.glob("*.json")}
    assert found == {
        "credentials-v2.json": "59955ced6697d61e03f2b2556febe5308ab16842846f5b586d7f1f7adec92734",
        "ob-v3p0-context-3.0.3.json": "3d34f4d4ef1bce691106e63798beb5e7b862ba841423f5ee1e53ab7ddf3bca84",
    }


@pytest.mark.parametrize("url", ["https://context.example/v1", "file:///etc/passwd"])
def test_another_context_is_never_fetched(url: str) -> None:
    document: dict[str, Any] = {**VECTOR["document"], "@context": [CREDENTIALS, OPEN_BADGES, url]}
    with pytest.raises(CourseError, match="does not come with the course"):
        signed(document, KEY)
