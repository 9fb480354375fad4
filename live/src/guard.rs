//! Who may ask, and what is said with every answer.
//!
//! Any page in the browser can send requests to this machine: a request must be
//! for our own name, from our own page, and bear the token. Nothing here is a
//! wall against programs of the same user, who can do what the user can.

use crate::token::Token;
use hyper::{
    HeaderMap, Method, Request, StatusCode,
    header::{
        CACHE_CONTROL, CONTENT_SECURITY_POLICY, CONTENT_TYPE, HOST, HeaderName, HeaderValue,
        ORIGIN, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS,
    },
};

/// The header that bears the token.
const TOKEN: &str = "x-longodds-token";

/// What the page may do: its own scripts, styles and type, and calls to this server.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; \
    style-src-attr 'unsafe-inline'; img-src 'self' data:; font-src 'self' data:; \
    connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; \
    require-trusted-types-for 'script'; trusted-types longodds";

/// The headers of every answer, errors too.
const SAID: [(HeaderName, &str); 6] = [
    (CACHE_CONTROL, "no-store"),
    (X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (REFERRER_POLICY, "no-referrer"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (CONTENT_SECURITY_POLICY, POLICY),
];

/// What this server is called, and its word.
pub(crate) struct Site {
    /// The port that it listens on, on this machine alone.
    pub(crate) port: u16,
    /// The word of this start.
    pub(crate) token: Token,
}

impl Site {
    fn is_own(&self, host: &str) -> bool {
        ["127.0.0.1", "localhost"].iter().any(|name| host == format!("{name}:{}", self.port))
    }
}

/// Why a request is not answered; `None`: it is.
pub(crate) fn refused<B>(site: &Site, request: &Request<B>) -> Option<(StatusCode, &'static str)> {
    let calls = request.uri().path().starts_with("/api/");
    stranger(site, request.headers(), calls).or_else(|| {
        let (headers, method) = (request.headers(), request.method());
        if !calls {
            let reads = method == Method::GET || method == Method::HEAD;
            return (!reads)
                .then_some((StatusCode::METHOD_NOT_ALLOWED, "only reading is allowed here"));
        }
        let token = headers.get(TOKEN).map_or(&b""[..], HeaderValue::as_bytes);
        if method != Method::POST {
            Some((StatusCode::METHOD_NOT_ALLOWED, "only POST is allowed here"))
        } else if !site.token.is(token) {
            Some((StatusCode::UNAUTHORIZED, "the token is missing or not that of this start"))
        } else if !is_json(headers) {
            Some((StatusCode::UNSUPPORTED_MEDIA_TYPE, "the content-type must be application/json"))
        } else {
            None
        }
    })
}

/// Whether it is for another name than ours, or from another page.
fn stranger(site: &Site, headers: &HeaderMap, calls: bool) -> Option<(StatusCode, &'static str)> {
    let only = |name: &HeaderName| {
        let mut all = headers.get_all(name).iter();
        let first = all.next()?;
        // Two of a kind are nobody's.
        Some(all.next().map_or_else(|| first.to_str().unwrap_or(""), |_| ""))
    };
    if !only(&HOST).is_some_and(|host| site.is_own(host)) {
        return Some((StatusCode::MISDIRECTED_REQUEST, "this server has another name"));
    }
    let own = |origin: &str| origin.strip_prefix("http://").is_some_and(|host| site.is_own(host));
    if only(&ORIGIN).is_some_and(|origin| !own(origin)) {
        return Some((StatusCode::FORBIDDEN, "this comes from another page"));
    }
    let near = |from: &str| from == "same-origin" || (!calls && from == "none");
    if only(&HeaderName::from_static("sec-fetch-site")).is_some_and(|from| !near(from)) {
        return Some((StatusCode::FORBIDDEN, "this comes from another page"));
    }
    None
}

fn is_json(headers: &HeaderMap) -> bool {
    let kind = headers.get(CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or("");
    kind.split(';').next().is_some_and(|kind| kind.trim().eq_ignore_ascii_case("application/json"))
}

/// Sets what every answer says.
pub(crate) fn sealed(headers: &mut HeaderMap) {
    for (name, value) in SAID {
        headers.insert(name, HeaderValue::from_static(value));
    }
}
