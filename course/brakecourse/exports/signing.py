"""Sign a JSON-LD document and check such a signature: Ed25519, Data Integrity, suite ``eddsa-rdfc-2022``.

Contexts come with the course and are never fetched: what a signature covers must not depend on a web server.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from brakecourse.errors import CourseError

Document = Mapping[str, Any]

CREDENTIALS = "https://www.w3.org/ns/credentials/v2"
OPEN_BADGES = "https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json"
_CONTEXTS = {CREDENTIALS: "credentials-v2.json", OPEN_BADGES: "ob-v3p0-context-3.0.3.json"}

_BASE58 = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz"
_ED25519_PUBLIC = b"\xed\x01"  # multicodec's mark for such a key
_DID_KEY = "did:key:"


def base58(content: bytes) -> str:
    """Return bytes in base 58, as Bitcoin's alphabet writes them.

    Source: the examples of the IETF draft "The Base58 Encoding Scheme" (from memory).

    >>> base58(b"Hello World!"), base58(bytes.fromhex("0000287fb4cd"))
    ('2NEpo7TZRRrLZSi2U', '11233QC4')
    """
    number, digits = int.from_bytes(content, "big"), ""
    while number:
        number, rest = divmod(number, 58)
        digits = _BASE58[rest] + digits
    return "1" * (len(content) - len(content.lstrip(b"\0"))) + digits


def from_base58(text: str) -> bytes:
    """Return the bytes of a text in base 58.

    Raises:
        ValueError: a sign does not belong to the alphabet.

    >>> from_base58("2NEpo7TZRRrLZSi2U")
    b'Hello World!'
    """
    number = 0
    for sign in text:
        number = number * 58 + _BASE58.index(sign)
    zeros = len(text) - len(text.lstrip("1"))
    return b"\0" * zeros + number.to_bytes((number.bit_length() + 7) // 8, "big")


def did_of(key: Ed25519PublicKey) -> str:
    """Return a public key as a ``did:key``: a name that holds the key itself."""
    return f"{_DID_KEY}z{base58(_ED25519_PUBLIC + key.public_bytes_raw())}"


def key_of(did: str) -> Ed25519PublicKey:
    """Return the public key that a ``did:key`` holds.

    Raises:
        ValueError: this is no ``did:key`` of an Ed25519 key.
    """
    content = from_base58(did.removeprefix(f"{_DID_KEY}z"))
    if not did.startswith(f"{_DID_KEY}z") or content[:2] != _ED25519_PUBLIC or len(content) != 34:
        raise ValueError("no did:key of an Ed25519 key")
    return Ed25519PublicKey.from_public_bytes(content[2:])


def signed(document: Document, key: Ed25519PrivateKey, method: str = "", created: str = "") -> dict[str, Any]:
    """Return a document with a proof added. The same document and key give the same bytes.

    Args:
        document: JSON-LD without a proof; it is left as it is.
        key: signs it.
        method: how a reader finds the public key; left out, the key's own ``did:key``.
        created: when, in ISO 8601; left out, the proof holds no time.

    Raises:
        CourseError: the document names a context that does not come with the course.
    """
    did = did_of(key.public_key())
    proof = {
        "type": "DataIntegrityProof",
        **({"created": created} if created else {}),
        "verificationMethod": method or f"{did}#{did.removeprefix(_DID_KEY)}",
        "cryptosuite": "eddsa-rdfc-2022",
        "proofPurpose": "assertionMethod",
    }
    value = f"z{base58(key.sign(hash_data(document, proof)))}"
    return {**document, "proof": {**proof, "proofValue": value}}


def is_signed_by(document: Document, key: Ed25519PublicKey) -> bool:
    """Tell whether a document's proof was made by a key for exactly this document.

    Args:
        document: JSON-LD with one proof of the suite.
        key: the public key.
    """
    proof = dict(document["proof"])
    try:
        signature = from_base58(str(proof.pop("proofValue")).removeprefix("z"))
        without = {name: value for name, value in document.items() if name != "proof"}
        key.verify(signature, hash_data(without, proof))
    except (InvalidSignature, ValueError, KeyError):
        return False
    return True


def hash_data(document: Document, proof: Document) -> bytes:
    """Return what is signed: the fingerprints (SHA-256) of the proof's options, then of the document.

    Source: W3C Recommendation "Data Integrity EdDSA Cryptosuites v1.0", section 3.2.
    """
    # The options are read in the document's own context.
    options = {"@context": document["@context"], **proof}
    return b"".join(hashlib.sha256(canonical(one).encode()).digest() for one in (options, document))


def canonical(document: Document) -> str:
    """Return a document's statements as sorted N-Quads: RDF Dataset Canonicalization (RDFC-1.0).

    Raises:
        CourseError: the document names a context that does not come with the course.
    """
    from pyld import jsonld

    options = {"algorithm": "URDNA2015", "format": "application/n-quads", "documentLoader": _bundled}
    try:
        return str(jsonld.normalize(dict(document), options))
    except jsonld.JsonLdError as error:
        cause: BaseException | None = error
        while cause is not None and not isinstance(cause, CourseError):
            cause = cause.__cause__ or cause.__context__
        raise cause or CourseError(
            f"The document can't be read as JSON-LD ({str(error)[:80]}); nothing was signed or checked."
        ) from error


def _bundled(url: str, _options: object = None) -> dict[str, Any]:
    if url not in _CONTEXTS:
        known = ", ".join(_CONTEXTS)
        raise CourseError(
            f"The context {url[:100]} does not come with the course, so what it means is not known; "
            f"only {known} may be named."
        )
    return {
        "contentType": "application/ld+json",
        "contextUrl": None,
        "documentUrl": url,
        "document": _context(url),
    }


@cache
def _context(url: str) -> Any:
    path = Path(__file__).with_name("contexts") / _CONTEXTS[url]
    return json.loads(path.read_text(encoding="utf-8"))
