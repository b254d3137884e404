//! Where something came from, as far as one party can be told from another by its address.

use std::net::{IpAddr, Ipv6Addr};

/// An address that stands for all that one party can have: a network of IPv6 by its first 64 bits, because whoever has one address
/// of it has all of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct CallerAddress(IpAddr);

impl From<IpAddr> for CallerAddress {
    fn from(address: IpAddr) -> Self {
        Self(match address.to_canonical() {
            IpAddr::V4(address) => IpAddr::V4(address),
            IpAddr::V6(address) => IpAddr::V6(Ipv6Addr::from_bits(address.to_bits() & !u128::from(u64::MAX))),
        })
    }
}

impl std::fmt::Display for CallerAddress {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.0 {
            IpAddr::V4(address) => address.fmt(formatter),
            IpAddr::V6(address) => write!(formatter, "{address}/64"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_network_of_ipv6_counts_as_one_address() {
        let of = |text: &str| CallerAddress::from(text.parse::<IpAddr>().unwrap());
        assert_eq!(of("2001:db8:1:2::1"), of("2001:db8:1:2:ffff::9"));
        assert_eq!(of("2001:db8:1:2::1").to_string(), "2001:db8:1:2::/64");
        assert_ne!(of("2001:db8:1:2::1"), of("2001:db8:1:3::1"));
        assert_ne!(of("192.0.2.1"), of("192.0.2.2"));
        assert_eq!(of("::ffff:192.0.2.1"), of("192.0.2.1"));
        assert_eq!(of("192.0.2.1").to_string(), "192.0.2.1");
    }
}
