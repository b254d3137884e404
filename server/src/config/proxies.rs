//! Whose word about where a request came from is taken.

use axum::http::HeaderMap;
use std::net::{IpAddr, SocketAddr};

/// The reverse proxies in front of the service.
#[derive(Debug, Clone, Default)]
pub struct TrustedProxies(Vec<Network>);

/// All addresses that agree in their first bits.
#[derive(Debug, Clone, Copy)]
struct Network {
    address: IpAddr,
    bits: u32,
}

const FORWARDED_FOR: &str = "x-forwarded-for";

impl TrustedProxies {
    /// A list such as `127.0.0.1,10.0.0.0/8,fd00::/8`; what cannot be read is returned.
    pub fn parse(list: &str) -> Result<Self, String> {
        let entries = list.split(',').map(str::trim).filter(|entry| !entry.is_empty());
        entries.map(|entry| Network::parse(entry).ok_or_else(|| entry.to_owned())).collect::<Result<_, _>>().map(Self)
    }

    /// The address of whoever sent a request that came in from `peer`: the last one that X-Forwarded-For names and that is no
    /// trusted proxy, as far as only trusted ones vouch for it.
    pub fn client(&self, peer: IpAddr, headers: &HeaderMap) -> IpAddr {
        let mut client = peer.to_canonical();
        let values: Vec<&str> = headers.get_all(FORWARDED_FOR).iter().filter_map(|value| value.to_str().ok()).collect();
        for said in values.iter().rev().flat_map(|value| value.rsplit(',')) {
            if !self.trusts(client) {
                break;
            }
            let Some(address) = address(said.trim()) else { break };
            client = address;
        }
        client
    }

    /// Whether a proxy at this address is one of them.
    pub fn trusts(&self, address: IpAddr) -> bool {
        let address = address.to_canonical();
        self.0.iter().any(|network| network.holds(address))
    }

    /// Whether a request that came in from `peer` is its own, and `peer` a machine of the operator's: this one, or a proxy.
    pub fn is_own_request(&self, peer: IpAddr, headers: &HeaderMap) -> bool {
        !headers.contains_key(FORWARDED_FOR) && (peer.to_canonical().is_loopback() || self.trusts(peer))
    }
}

/// An address, with or without a port.
fn address(text: &str) -> Option<IpAddr> {
    let bare = text.strip_prefix('[').and_then(|text| text.strip_suffix(']')).unwrap_or(text);
    let parsed = bare.parse().ok().or_else(|| text.parse::<SocketAddr>().ok().map(|address| address.ip()));
    parsed.map(|address: IpAddr| address.to_canonical())
}

impl Network {
    fn parse(text: &str) -> Option<Self> {
        let (address, bits) = match text.split_once('/') {
            Some((address, bits)) => (address, Some(bits.parse().ok()?)),
            None => (text, None),
        };
        let address: IpAddr = address.parse().ok()?;
        let width = if address.is_ipv4() { 32 } else { 128 };
        let bits = bits.unwrap_or(width);
        (bits <= width).then_some(Self { address, bits })
    }

    fn holds(&self, other: IpAddr) -> bool {
        let (ours, theirs, width) = match (self.address, other) {
            (IpAddr::V4(a), IpAddr::V4(b)) => (u128::from(a.to_bits()), u128::from(b.to_bits()), 32),
            (IpAddr::V6(a), IpAddr::V6(b)) => (a.to_bits(), b.to_bits(), 128),
            _ => return false,
        };
        (ours ^ theirs).checked_shr(width - self.bits).unwrap_or_default() == 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn client(list: &str, peer: &str, said: &[&'static str]) -> String {
        let mut headers = HeaderMap::new();
        for value in said {
            headers.append(FORWARDED_FOR, axum::http::HeaderValue::from_static(value));
        }
        TrustedProxies::parse(list).unwrap().client(peer.parse().unwrap(), &headers).to_string()
    }

    #[test]
    fn only_trusted_proxies_are_believed() {
        let two = "10.0.0.0/8, ::1";
        assert_eq!(client("", "10.0.0.1", &["203.0.113.9"]), "10.0.0.1", "nobody is trusted");
        assert_eq!(client(two, "192.0.2.1", &["203.0.113.9"]), "192.0.2.1", "a stranger's word");
        assert_eq!(client(two, "10.0.0.1", &[]), "10.0.0.1");
        assert_eq!(client(two, "10.0.0.1", &["203.0.113.9"]), "203.0.113.9");
        assert_eq!(client(two, "::1", &["203.0.113.9, 10.2.3.4"]), "203.0.113.9", "a row of proxies");
        assert_eq!(client(two, "::1", &["203.0.113.9", "10.2.3.4"]), "203.0.113.9", "in two headers");
        assert_eq!(client(two, "::1", &["203.0.113.9, 198.51.100.7"]), "198.51.100.7", "the first was made up");
        assert_eq!(client(two, "::ffff:10.0.0.1", &["[2001:db8::5]:4711"]), "2001:db8::5");
        assert_eq!(client(two, "10.0.0.1", &["203.0.113.9:80, nonsense"]), "10.0.0.1");
        assert_eq!(client("0.0.0.0/0", "10.0.0.1", &["203.0.113.9"]), "203.0.113.9");
        assert_eq!(client("10.0.0.128/25", "10.0.0.127", &["203.0.113.9"]), "10.0.0.127");
    }

    #[test]
    fn what_is_forwarded_is_nobody_s_own() {
        let trusted = TrustedProxies::parse("10.0.0.0/8").unwrap();
        let own = |peer: &str, headers: &HeaderMap| trusted.is_own_request(peer.parse().unwrap(), headers);
        let (none, mut said) = (HeaderMap::new(), HeaderMap::new());
        said.insert(FORWARDED_FOR, axum::http::HeaderValue::from_static("127.0.0.1"));
        for (peer, is_own) in [("127.0.0.1", true), ("::1", true), ("::ffff:10.1.1.1", true), ("192.0.2.1", false)] {
            assert_eq!(own(peer, &none), is_own, "{peer}");
            assert!(!own(peer, &said), "{peer}");
        }
    }

    #[test]
    fn what_is_no_network_is_named() {
        for wrong in ["10.0.0.0/33", "proxy", "10.0.0/8", "::1/129", "10.0.0.0/-1"] {
            assert_eq!(TrustedProxies::parse(&format!("127.0.0.1,{wrong}")).unwrap_err(), wrong);
        }
    }
}
