"""A certificate for a server of this machine, as the openssl program writes it."""

from __future__ import annotations

import ssl
import subprocess
from pathlib import Path

MAKE = (
    "openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 2 "
    "-subj /CN=stand-in"
)


def self_signed(folder: Path, name: str, alternative: str = "IP:127.0.0.1") -> tuple[Path, Path]:
    """Certificate and key in `folder`; who trusts the certificate trusts its server."""
    certificate, key = folder / f"{name}.pem", folder / f"{name}.key"
    files = ["-keyout", str(key), "-out", str(certificate)]
    extension = ["-addext", f"subjectAltName={alternative}"]
    subprocess.run([*MAKE.split(), *files, *extension], check=True, capture_output=True)
    return certificate, key


def context(certificate: Path, key: Path) -> ssl.SSLContext:
    """What a server with that certificate speaks."""
    speaks = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    speaks.load_cert_chain(certificate, key)
    return speaks
