"""How a phone comes to trust the book's own authority: the certificate, and the steps."""

from datetime import datetime
from typing import Final

from babel.dates import format_date
from litestar import Response, get
from litestar.enums import MediaType
from litestar.exceptions import NotFoundException

from mancary.access.fingerprints import fingerprint
from mancary.web.desk import Asked, Desk
from mancary.web.tongue import N_, _

SYSTEMS: Final = (
    (
        "iPhone and iPad",
        (
            N_("Fetch the certificate in Safari and allow the profile to be downloaded."),
            N_("Settings, General, VPN & Device Management: choose the profile and install it."),
            N_(
                "Settings, General, About, Certificate Trust Settings: turn it on."
                " Without this last step nothing changes."
            ),
        ),
    ),
    (
        "Android",
        (
            N_("Fetch the certificate; it lies under Downloads then."),
            N_(
                "Settings, Security (and privacy), More, Encryption & credentials,"
                " Install a certificate, CA certificate: read the warning, choose the file."
            ),
            N_(
                "Firefox on Android asks this authority only after its own settings"
                " were told so; the system’s own browser asks it at once."
            ),
        ),
    ),
    (
        "Windows",
        (
            N_("Open the fetched file, Install Certificate, Current User."),
            N_("Place it in Trusted Root Certification Authorities, and start the browser again."),
        ),
    ),
    (
        "macOS",
        (
            N_("Open the fetched file: it goes into the login keychain."),
            N_("In Keychain Access open it, Trust, and choose Always Trust for SSL."),
        ),
    ),
    (
        "Linux",
        (
            N_(
                "In Chromium: Settings, Privacy and security, Security, Manage"
                " certificates: import it under trusted certificates."
            ),
            N_("In Firefox: Settings, Privacy & Security, View Certificates, Authorities, Import."),
        ),
    ),
)
"""Systems by their names, for the steps differ; the menus are from memory, and the page says so."""


@get("/authority", media_type=MediaType.HTML, who="anyone", sync_to_thread=True)
def authority_page(request: Asked, desk: Desk) -> Response[str]:
    """The steps by system, and what is trusted by them."""
    from cryptography import x509

    der = _der(desk)
    certificate = x509.load_der_x509_certificate(der)
    limits = certificate.extensions.get_extension_for_class(x509.NameConstraints).value
    named = [str(one.value) for one in limits.permitted_subtrees or ()]
    return desk.page(
        request,
        "authority.html",
        here="/authority",
        print=fingerprint(der),
        systems=SYSTEMS,
        vouched=", ".join(named),
        until=_said(certificate.not_valid_after_utc),
        on_to=desk.entrance.reach.addresses[0],
    )


@get("/authority.crt", media_type="application/x-x509-ca-cert", who="anyone", sync_to_thread=False)
def authority_file(desk: Desk) -> Response[bytes]:
    """The authority's certificate (DER), which holds no secret."""
    held = {"content-disposition": 'attachment; filename="mancary-authority.crt"'}
    return Response(_der(desk), media_type="application/x-x509-ca-cert", headers=held)


def _der(desk: Desk) -> bytes:
    der = desk.entrance.reach.authority
    if not der:
        raise NotFoundException(_("No authority: the pages are not served with --https."))
    return der


def _said(moment: datetime) -> str:
    return format_date(moment.date(), "d MMMM y", locale="en")
