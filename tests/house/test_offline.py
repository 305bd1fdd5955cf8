"""The tests themselves cannot reach the internet, and can still talk inside the machine."""

from __future__ import annotations

import socket

import pytest


@pytest.mark.parametrize("family", [socket.AF_INET, socket.AF_INET6], ids=str)
def test_internet_sockets_are_refused(family: socket.AddressFamily) -> None:
    with pytest.raises(Exception, match="works offline"):
        socket.socket(family)


def test_names_are_not_looked_up() -> None:
    with pytest.raises(Exception, match="works offline"):
        socket.getaddrinfo("localhost", 80)


def test_local_sockets_work() -> None:
    one, other = socket.socketpair()
    with one, other:
        one.sendall(b"sown")
        assert other.recv(4) == b"sown"
