//! The farm's authority: made once, and never replaced in silence.

use super::names::{LOCAL_ENDINGS, PRIVATE_BLOCKS};
use super::{Leaf, Names, TlsError, file};
use crate::access::hexadecimal;
use pentally_domain::time::DAY_MS;
use rcgen::{
    BasicConstraints, CertificateParams, CidrSubnet, DistinguishedName, DnType, GeneralSubtree,
    IsCa, Issuer, KeyPair, KeyUsagePurpose, NameConstraints, PublicKeyData, SerialNumber,
};
use sha2::{Digest, Sha256};
use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use time::OffsetDateTime;

/// Longer than any phone lives; a shorter life would send every phone through the steps again.
const LIFE_DAYS: i64 = 3_650;
/// Phones whose clocks are behind by less still take what is made today.
pub(super) const SLOW_CLOCKS_MS: i64 = 28 * DAY_MS;
/// 1 January 2026: a clock before that was never set.
const CLOCK_SINCE_MS: i64 = 1_767_225_600_000;
const CERTIFICATE: &str = "authority.pem";
const KEY: &str = "authority.key";

/// See the module's words.
pub struct Authority {
    issuer: Issuer<'static, KeyPair>,
    pem: String,
    der: Vec<u8>,
}

impl fmt::Debug for Authority {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Authority")
    }
}

impl Authority {
    /// The authority of this folder; a new one if there never was one. `now_ms` is ms since 1970.
    pub fn of(folder: &Path, now_ms: i64) -> Result<Self, TlsError> {
        /// Whoever asks first makes it; two at once would make two.
        static MAKING: Mutex<()> = Mutex::new(());
        let _alone = MAKING.lock().unwrap_or_else(PoisonError::into_inner);
        file::folder(folder)?;
        let (place, key_place) = (folder.join(CERTIFICATE), folder.join(KEY));
        match (file::read(&place)?, file::read(&key_place)?) {
            (Some(pem), Some(key)) => {
                Self::read(pem, &key, &place).map_err(|why| unusable(&place, why))
            }
            // The key is written first: a power cut came in between, and nobody was handed anything.
            (None, Some(key)) => {
                let key = KeyPair::from_pem(&key).map_err(|e| unusable(&key_place, e))?;
                Self::make(key, &place, now_ms)
            }
            (None, None) => {
                let key = KeyPair::generate()?;
                file::write(&key_place, &key.serialize_pem())?;
                Self::make(key, &place, now_ms)
            }
            (Some(_), None) => Err(unusable(&key_place, "it is missing")),
        }
    }

    /// The certificate as text.
    pub fn pem(&self) -> &str {
        &self.pem
    }

    /// The certificate's bytes, as phones take them.
    pub fn der(&self) -> &[u8] {
        &self.der
    }

    /// SHA-256 of the certificate, in pairs of hexadecimal digits, to be compared by eye.
    pub fn fingerprint(&self) -> String {
        let pairs: Vec<_> = Sha256::digest(&self.der)
            .iter()
            .map(|byte| format!("{byte:02X}"))
            .collect();
        pairs.join(":")
    }

    /// A certificate for the server.
    pub(super) fn vouch(&self, names: &Names, now_ms: i64) -> Result<Leaf, TlsError> {
        Leaf::make(&self.issuer, names, now_ms)
    }

    /// Whether it vouched for a certificate, given as text.
    pub(super) fn vouched(&self, leaf_pem: &str) -> bool {
        let read = || {
            let (_, leaf) = x509_parser::pem::parse_x509_pem(leaf_pem.as_bytes()).ok()?;
            let leaf = leaf.parse_x509().ok()?;
            let (_, own) = x509_parser::parse_x509_certificate(&self.der).ok()?;
            Some(leaf.issuer() == own.subject())
        };
        read().unwrap_or(false)
    }

    fn read(pem: String, key: &str, place: &Path) -> Result<Self, String> {
        let say = |e: rcgen::Error| e.to_string();
        let key = KeyPair::from_pem(key).map_err(|e| format!("its key does not read: {e}"))?;
        let (_, parsed) = x509_parser::pem::parse_x509_pem(pem.as_bytes())
            .map_err(|e| format!("{} does not read: {e}", place.display()))?;
        let certificate = parsed
            .parse_x509()
            .map_err(|e| format!("it does not read: {e}"))?;
        if certificate.public_key().raw != key.subject_public_key_info() {
            return Err("its key belongs to another certificate".to_owned());
        }
        let der = parsed.contents.clone();
        let issuer = Issuer::from_ca_cert_pem(&pem, key).map_err(say)?;
        Ok(Self { issuer, pem, der })
    }

    fn make(key: KeyPair, place: &Path, now_ms: i64) -> Result<Self, TlsError> {
        if now_ms < CLOCK_SINCE_MS {
            return Err(TlsError::Clock);
        }
        let params = params(now_ms)?;
        let certificate = params.self_signed(&key)?;
        file::write(place, &certificate.pem())?;
        Ok(Self {
            pem: certificate.pem(),
            der: certificate.der().to_vec(),
            issuer: Issuer::new(params, key),
        })
    }
}

fn params(now_ms: i64) -> Result<CertificateParams, TlsError> {
    let serial = serial()?;
    let short = hexadecimal(&serial[..3]);
    let mut params = CertificateParams::default();
    params.distinguished_name = DistinguishedName::new();
    // The list of authorities on a phone shows this name; two farms on one phone differ in it.
    params.distinguished_name.push(
        DnType::CommonName,
        format!("Pentally farm authority {short}"),
    );
    params.serial_number = Some(SerialNumber::from_slice(&serial));
    params.not_before = at(now_ms - SLOW_CLOCKS_MS)?;
    params.not_after = at(now_ms + LIFE_DAYS * DAY_MS)?;
    params.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign, KeyUsagePurpose::CrlSign];
    let names = LOCAL_ENDINGS
        .iter()
        .map(|ending| GeneralSubtree::DnsName((*ending).to_owned()));
    let blocks = PRIVATE_BLOCKS.iter().map(|(block, prefix)| {
        GeneralSubtree::IpAddress(CidrSubnet::from_addr_prefix(*block, *prefix))
    });
    params.name_constraints = Some(NameConstraints {
        permitted_subtrees: names.chain(blocks).collect(),
        excluded_subtrees: vec![],
    });
    Ok(params)
}

/// A fresh serial number, positive and of full length (RFC 5280, 4.1.2.2).
pub(super) fn serial() -> Result<[u8; 16], TlsError> {
    let mut bytes = [0; 16];
    getrandom::fill(&mut bytes).map_err(|e| TlsError::Library(format!("no random bytes: {e}")))?;
    bytes[0] = bytes[0] & 0x7f | 0x40;
    Ok(bytes)
}

/// A moment (ms since 1970) as certificates write it.
pub(super) fn at(ms: i64) -> Result<OffsetDateTime, TlsError> {
    OffsetDateTime::from_unix_timestamp(ms.div_euclid(1_000))
        .map_err(|e| TlsError::Library(e.to_string()))
}

fn unusable(place: &Path, why: impl ToString) -> TlsError {
    TlsError::Authority {
        place: PathBuf::from(place),
        why: why.to_string(),
    }
}
