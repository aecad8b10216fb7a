//! The server's own certificate.

use super::authority::{SLOW_CLOCKS_MS, at, serial};
use super::{Authority, Names, TlsError, file};
use pentally_domain::time::DAY_MS;
use rcgen::{
    CertificateParams, DistinguishedName, DnType, ExtendedKeyUsagePurpose, IsCa, Issuer, KeyPair,
    KeyUsagePurpose, PublicKeyData, SanType, SerialNumber,
};
use std::fmt;
use std::net::IpAddr;
use std::path::Path;
use x509_parser::certificate::X509Certificate;
use x509_parser::extensions::GeneralName;

/// What phones accept at most, from an authority that a person let them trust.
const LIFE_DAYS: i64 = 397;
/// Made anew when less is left.
const LEFT_DAYS: i64 = 30;
const CERTIFICATE: &str = "server.pem";
const KEY: &str = "server.key";

/// A certificate and its key, as text.
#[derive(Clone, PartialEq, Eq)]
pub struct Leaf {
    /// The certificate.
    pub pem: String,
    /// Its key.
    pub key: String,
}

impl fmt::Debug for Leaf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Leaf")
    }
}

impl Leaf {
    /// The certificate in the folder while it covers the names and has time left; else a new one.
    /// `now_ms` is ms since 1970.
    pub fn of(
        folder: &Path,
        authority: &Authority,
        names: &Names,
        now_ms: i64,
    ) -> Result<Self, TlsError> {
        let (place, key_place) = (folder.join(CERTIFICATE), folder.join(KEY));
        if let (Some(pem), Some(key)) = (file::read(&place)?, file::read(&key_place)?) {
            let stands = Stands::read(&pem, &key);
            if stands.is_some_and(|s| s.serves(names, now_ms)) && authority.vouched(&pem) {
                return Ok(Self { pem, key });
            }
        }
        let made = authority.vouch(names, now_ms)?;
        file::write(&key_place, &made.key)?;
        file::write(&place, &made.pem)?;
        Ok(made)
    }

    pub(super) fn make(
        issuer: &Issuer<'_, KeyPair>,
        names: &Names,
        now_ms: i64,
    ) -> Result<Self, TlsError> {
        let key = KeyPair::generate()?;
        let mut params = CertificateParams::default();
        params.distinguished_name = DistinguishedName::new();
        params
            .distinguished_name
            .push(DnType::CommonName, "Pentally barn server");
        params.serial_number = Some(SerialNumber::from_slice(&serial()?));
        params.not_before = at(now_ms - SLOW_CLOCKS_MS)?;
        params.not_after = at(now_ms - SLOW_CLOCKS_MS + LIFE_DAYS * DAY_MS)?;
        params.is_ca = IsCa::ExplicitNoCa;
        params.use_authority_key_identifier_extension = true;
        params.key_usages = vec![KeyUsagePurpose::DigitalSignature];
        params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
        let dns = names
            .dns
            .iter()
            .map(|name| Ok(SanType::DnsName(name.as_str().try_into()?)));
        let ips = names.ips.iter().map(|ip| Ok(SanType::IpAddress(*ip)));
        params.subject_alt_names = dns.chain(ips).collect::<Result<_, rcgen::Error>>()?;
        Ok(Self {
            pem: params.signed_by(&key, issuer)?.pem(),
            key: key.serialize_pem(),
        })
    }
}

/// What a stored certificate says.
struct Stands {
    names: Names,
    until_ms: i64,
    from_ms: i64,
    has_its_key: bool,
}

impl Stands {
    fn read(pem: &str, key: &str) -> Option<Self> {
        let (_, parsed) = x509_parser::pem::parse_x509_pem(pem.as_bytes()).ok()?;
        let certificate = parsed.parse_x509().ok()?;
        let key = KeyPair::from_pem(key).ok()?;
        let validity = certificate.validity();
        Some(Self {
            names: names_on(&certificate)?,
            from_ms: validity.not_before.timestamp() * 1_000,
            until_ms: validity.not_after.timestamp() * 1_000,
            has_its_key: key.subject_public_key_info() == certificate.public_key().raw,
        })
    }

    fn serves(&self, names: &Names, now_ms: i64) -> bool {
        let in_time = self.from_ms <= now_ms && self.until_ms - now_ms > LEFT_DAYS * DAY_MS;
        self.has_its_key && in_time && self.names.cover(names)
    }
}

/// The names and addresses that a certificate is for; none where it does not say (RFC 5280, 4.2.1.6).
pub(super) fn names_on(certificate: &X509Certificate<'_>) -> Option<Names> {
    let named = certificate.subject_alternative_name().ok()??;
    let mut names = Names::default();
    for name in &named.value.general_names {
        match name {
            GeneralName::DNSName(name) => {
                names.dns.insert((*name).to_lowercase());
            }
            GeneralName::IPAddress(bytes) => names.ips.extend(address(bytes)),
            _ => {}
        }
    }
    Some(names)
}

fn address(bytes: &[u8]) -> Option<IpAddr> {
    let v4 = <[u8; 4]>::try_from(bytes).ok().map(IpAddr::from);
    v4.or_else(|| <[u8; 16]>::try_from(bytes).ok().map(IpAddr::from))
}
