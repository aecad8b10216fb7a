//! Which coding an asker takes (RFC 9110, 12.5.3).

/// A coding that the builder made a twin in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Coding {
    /// Brotli, the shorter.
    Brotli,
    /// Gzip, for what speaks plain http: browsers offer brotli over https only.
    Gzip,
}

impl Coding {
    /// The shortest that an `accept-encoding` takes; quality only says no (0) here,
    /// because our two differ in nothing else.
    pub fn best(accepted: &str) -> Option<Self> {
        [Self::Brotli, Self::Gzip]
            .into_iter()
            .find(|coding| takes(accepted, coding.name()))
    }

    /// Its name in HTTP.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Brotli => "br",
            Self::Gzip => "gzip",
        }
    }

    /// The ending of its twin's file name.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Brotli => "br",
            Self::Gzip => "gz",
        }
    }
}

fn takes(accepted: &str, name: &str) -> bool {
    let quality_of = |wanted: &str| {
        accepted.split(',').find_map(|item| {
            let mut parts = item.split(';').map(str::trim);
            let named = parts.next()?.eq_ignore_ascii_case(wanted);
            let quality = parts.find_map(|part| part.strip_prefix("q="));
            named.then(|| quality.and_then(|q| q.parse::<f32>().ok()).unwrap_or(1.0))
        })
    };
    quality_of(name)
        .or_else(|| quality_of("*"))
        .is_some_and(|quality| quality > 0.0)
}

#[cfg(test)]
mod tests {
    use super::Coding;

    #[test]
    fn the_shortest_accepted_coding_is_picked() {
        for (accepted, picked) in [
            ("gzip, deflate, br, zstd", Some(Coding::Brotli)),
            ("gzip, deflate", Some(Coding::Gzip)),
            ("br;q=0, gzip;q=0.5", Some(Coding::Gzip)),
            ("GZIP", Some(Coding::Gzip)),
            ("*", Some(Coding::Brotli)),
            ("*;q=0", None),
            ("identity", None),
            ("", None),
        ] {
            assert_eq!(Coding::best(accepted), picked, "{accepted}");
        }
    }
}
