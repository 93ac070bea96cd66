"""A certificate for a server of this machine, as the openssl program writes it."""

from __future__ import annotations

import shutil
import ssl
import subprocess
from pathlib import Path

from tests.support.missing import missing

MAKE = (
    "openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 2 "
    # Python from 3.13 on wants the key's use named (X.509 strict).
    "-subj /CN=stand-in -addext keyUsage=critical,digitalSignature,keyCertSign"
)


def self_signed(folder: Path, name: str, alternative: str = "IP:127.0.0.1") -> tuple[Path, Path]:
    """Certificate and key in `folder`; who trusts the certificate trusts its server."""
    if not shutil.which("openssl"):
        missing("openssl is not installed")
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
