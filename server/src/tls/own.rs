//! What a certificate is for that the farm brought itself.

use super::leaf::names_on;
use super::names::{NameError, Names, is_dns, plain};
use std::fs;
use std::net::IpAddr;
use std::path::Path;

/// Reads a name or address that the certificate in this file bears.
pub fn borne_name(text: &str, certificate: &Path) -> Result<String, NameError> {
    let unread = |why: &dyn std::fmt::Display| NameError::Unread {
        why: format!("{}: {why}", certificate.display()),
    };
    let pem = fs::read(certificate).map_err(|e| unread(&e))?;
    let (_, parsed) = x509_parser::pem::parse_x509_pem(&pem).map_err(|e| unread(&e))?;
    let leaf = parsed.parse_x509().map_err(|e| unread(&e))?;
    let names = names_on(&leaf).unwrap_or_default();
    let name = plain(text);
    if bears(&names, &name) {
        return Ok(name);
    }
    let ips = names.ips.iter().map(ToString::to_string);
    let all: Vec<_> = names.dns.iter().cloned().chain(ips).collect();
    Err(NameError::NotBorne {
        read: text.to_owned(),
        bears: all.join(", "),
    })
}

/// An asterisk stands for one whole label at the beginning (RFC 9525, 6.3).
fn bears(names: &Names, name: &str) -> bool {
    if let Ok(ip) = name.parse::<IpAddr>() {
        return names.ips.contains(&ip);
    }
    let wild = name.split_once('.').map(|(_, rest)| format!("*.{rest}"));
    is_dns(name) && (names.dns.contains(name) || wild.is_some_and(|wild| names.dns.contains(&wild)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_asterisk_stands_for_one_label() {
        let names = Names {
            dns: ["farm.example", "*.barns.example"]
                .map(str::to_owned)
                .into(),
            ips: ["192.0.2.7".parse().unwrap()].into(),
        };
        for (name, is_borne) in [
            ("farm.example", true),
            ("hill.barns.example", true),
            ("192.0.2.7", true),
            ("barns.example", false),
            ("a.hill.barns.example", false),
            ("*.barns.example", false),
            ("192.0.2.8", false),
            ("", false),
        ] {
            assert_eq!(bears(&names, name), is_borne, "{name}");
        }
    }
}
