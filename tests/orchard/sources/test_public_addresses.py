"""Which addresses are public, against Python's own tables and the registries' words."""

from ipaddress import IPv4Address, IPv6Address, ip_network

import pytest
from hypothesis import example, given, strategies as st

from orchard.sources.network import is_public

v4 = st.ip_addresses(v=4)
v6 = st.ip_addresses(v=6)
#: Half of what is drawn at random would never lie in a small special block.
SPECIAL = [
    # IANA IPv4 special-purpose address registry (RFC 6890 and after), by name.
    *("0.0.0.0/8", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16"),
    *("172.16.0.0/12", "192.0.0.0/24", "192.0.2.0/24", "192.88.99.0/24"),
    *("192.168.0.0/16", "198.18.0.0/15", "198.51.100.0/24", "203.0.113.0/24"),
    *("224.0.0.0/4", "240.0.0.0/4", "255.255.255.255/32"),
]
SPECIAL_6 = [
    # IANA IPv6 special-purpose address registry, and what is given to no machine.
    *("::/128", "::1/128", "::/96", "64:ff9b:1::/48", "100::/64", "2001::/32"),
    *("2001:2::/48", "2001:db8::/32", "3fff::/20", "5f00::/16", "fc00::/7"),
    *("fe80::/10", "fec0::/10", "ff00::/8", "4000::/3"),
]


@st.composite
def inside(draw, networks):
    network = ip_network(draw(st.sampled_from(networks)))
    return network[draw(st.integers(0, network.num_addresses - 1))]


@given(v4)
@example(IPv4Address("8.8.8.8"))
@example(IPv4Address("224.0.0.1"))
def test_an_ipv4_address_is_public_only_if_python_calls_it_global(address):
    if is_public(str(address)):
        assert address.is_global
        assert not address.is_multicast
    elif address.is_global and not address.is_multicast:
        assert address in ip_network("192.88.99.0/24") or address in ip_network(
            "192.0.0.0/24"
        )


@given(inside(SPECIAL) | inside(SPECIAL_6))
def test_no_special_address_is_public(address):
    assert not is_public(str(address))


@given(v6)
@example(IPv6Address("2606:4700::1111"))
@example(IPv6Address("2001:db8::1"))
def test_an_ipv6_address_is_public_only_if_python_calls_it_global(address):
    carries = address in ip_network("2002::/16") or address.ipv4_mapped is not None
    if is_public(str(address)) and not carries:
        assert address.is_global


@given(v4 | inside(SPECIAL))
def test_what_carries_an_ipv4_address_is_as_public_as_that(address):
    number = int(address)
    carried = [
        IPv6Address((0xFFFF << 32) | number),  # mapped, RFC 4291, section 2.5.5.2
        IPv6Address((0x2002 << 112) | (number << 80) | 1),  # 6to4, RFC 3056
        IPv6Address((0x64FF9B << 96) | number),  # NAT64, RFC 6052
    ]
    expected = is_public(str(address))
    assert [is_public(str(each)) for each in carried] == [expected] * 3


@pytest.mark.parametrize("address", ["8.8.8.8", "1.1.1.1", "2606:4700::1111"])
def test_machines_everybody_knows_are_public(address):
    assert is_public(address)


@pytest.mark.parametrize(
    "text", ["", "localhost", "127.1", "0x7f000001", "2606:4700::1%1", "1.2.3.4/32"]
)
def test_what_is_no_address_in_full_is_not_public(text):
    assert not is_public(text)
