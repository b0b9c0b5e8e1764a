"""What every answer of the app's server says to the browser, and the service worker repeats.

A page may load only what lies beside it, start only the three workers that
``app/trusted.js`` admits, and use none of the phone's senses it does not need.
"""

POLICY = {
    "default-src": "'none'",
    # WebAssembly may be compiled; no text may become a script.
    "script-src": "'self' 'wasm-unsafe-eval'",
    "worker-src": "'self'",
    "connect-src": "'self'",
    "style-src": "'self'",
    "font-src": "'self'",
    "img-src": "'self' blob: data:",
    "manifest-src": "'self'",
    "base-uri": "'none'",
    "form-action": "'none'",
    "frame-ancestors": "'none'",
    "require-trusted-types-for": "'script'",
    # Ours (app/trusted.js) and the one that lit-html makes for its own constant templates.
    "trusted-types": "out-of-true lit-html",
}

# A page's meta element cannot say this one; a browser would complain in its console.
_HEADER_ONLY = ("frame-ancestors",)

# Sharing is allowed too, by every browser's own rule; some complain when the header names it.
ALLOWED = ("screen-wake-lock",)
DENIED = (
    "accelerometer", "autoplay", "camera", "display-capture", "encrypted-media", "fullscreen",
    "geolocation", "gyroscope", "hid", "idle-detection", "local-fonts", "magnetometer", "microphone", "midi",
    "payment", "picture-in-picture", "publickey-credentials-get", "serial", "usb", "xr-spatial-tracking",
)  # fmt: skip


def content_policy(*, is_meta: bool = False) -> str:
    """The Content-Security-Policy; ``is_meta``: as far as a page's own meta element may say it."""
    parts = [(name, value) for name, value in POLICY.items() if not (is_meta and name in _HEADER_ONLY)]
    return "; ".join(f"{name} {value}" for name, value in parts)


def headers() -> dict[str, str]:
    """Header name → value, for every answer."""
    permissions = [f"{name}=(self)" for name in ALLOWED] + [f"{name}=()" for name in DENIED]
    return {
        "Content-Security-Policy": content_policy(),
        "Permissions-Policy": ", ".join(permissions),
        "X-Content-Type-Options": "nosniff",
        "Referrer-Policy": "no-referrer",
        "Cross-Origin-Opener-Policy": "same-origin",
        "Cross-Origin-Resource-Policy": "same-origin",
    }
