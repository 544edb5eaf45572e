"""Certificates of servers on this machine, which sign for themselves."""

import datetime
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID


@dataclass(frozen=True)
class Certificate:
    """Files of a certificate that its owner signed, for `localhost` or another name, and its key."""

    chain: Path
    key: Path


def certificate(folder: Path, name: str = "localhost") -> Certificate:
    """A self-signed certificate, good for a day."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    now = datetime.datetime.now(datetime.UTC)
    alternatives: list[x509.GeneralName] = [x509.DNSName(name)]
    if name == "localhost":
        alternatives.append(x509.IPAddress(ip_address("127.0.0.1")))
    made = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - datetime.timedelta(hours=1))
        .not_valid_after(now + datetime.timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName(alternatives), critical=False)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .sign(key, hashes.SHA256())
    )
    files = Certificate(folder / f"{name}.pem", folder / f"{name}.key")
    files.chain.write_bytes(made.public_bytes(serialization.Encoding.PEM))
    files.key.write_bytes(
        key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())
    )
    return files
