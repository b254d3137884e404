//! Pages of other sites that call the API (the Fetch standard, section 3.3).

use crate::server::Server;

const SHOP: &str = "https://shop.example";

fn preflight(server: &Server, path: &str, origin: &str) -> crate::server::Answer {
    let asked = [
        ("origin", origin),
        ("access-control-request-method", "POST"),
        ("access-control-request-headers", "authorization, idempotency-key"),
    ];
    server.send("OPTIONS", path, "", &asked, None)
}

#[test]
fn a_site_that_is_named_may_call_and_no_other_may() {
    let server = Server::start_with(&["--cors-origins", "https://shop.example,http://localhost:5173"]);
    let token = server.publisher();
    for origin in [SHOP, "http://localhost:5173"] {
        let asked = preflight(&server, "/v1/kits", origin).expect(200);
        assert_eq!(asked.header("access-control-allow-origin"), origin);
        assert!(asked.header("access-control-allow-methods").contains("POST"));
        assert!(asked.header("access-control-allow-headers").contains("idempotency-key"));
        let read = server.send("GET", "/v1/kits", &token, &[("origin", origin)], None).expect(200);
        assert_eq!(read.header("access-control-allow-origin"), origin);
        assert!(read.header("access-control-expose-headers").contains("etag"));
        assert!(read.headers.get("access-control-allow-credentials").is_none(), "cookies stay at home");
    }
    // A problem can be read as well.
    let refused = server.send("GET", "/v1/kits", "wrong", &[("origin", SHOP)], None);
    assert_eq!((refused.status, refused.header("access-control-allow-origin")), (401, SHOP));
    for origin in ["https://shop.example.evil.example", "http://shop.example", "null"] {
        assert!(
            preflight(&server, "/v1/kits", origin).headers.get("access-control-allow-origin").is_none(),
            "{origin}"
        );
        let read = server.send("GET", "/v1/kits", &token, &[("origin", origin)], None);
        assert!(read.headers.get("access-control-allow-origin").is_none(), "{origin}");
    }
    let page = server.send("GET", "/sign-in", "", &[("origin", SHOP)], None).expect(200);
    assert!(page.headers.get("access-control-allow-origin").is_none(), "pages are for people here");
}

#[test]
fn nobody_is_named_from_the_start() {
    let server = Server::start();
    assert!(preflight(&server, "/v1/kits", SHOP).headers.get("access-control-allow-origin").is_none());
}
