//! Letters and words compared without case, accents and punctuation.

/// The words of a text in lower-case ASCII where that is possible: accents dropped, a capital
/// inside a word starts a new one, everything else separates.
pub(crate) fn words(text: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut after_small = false;
    for c in text.chars() {
        if is_mark(c) {
            continue;
        }
        if !c.is_alphanumeric() || (after_small && c.is_uppercase()) {
            words.push(String::new());
        }
        if let Some(word) = words.last_mut().filter(|_| c.is_alphanumeric()) {
            word.extend(c.to_lowercase().map(bare));
        }
        after_small = c.is_lowercase();
    }
    words.retain(|w| !w.is_empty());
    words
}

/// Combining accents, and the raised o and a of ordinals, say nothing here.
fn is_mark(c: char) -> bool {
    matches!(c, '\u{300}'..='\u{36f}' | 'º' | 'ª' | '°')
}

fn bare(c: char) -> char {
    match c {
        'á' | 'à' | 'â' | 'ä' | 'ã' => 'a',
        'é' | 'è' | 'ê' | 'ë' => 'e',
        'í' | 'ì' | 'î' | 'ï' => 'i',
        'ó' | 'ò' | 'ô' | 'ö' | 'õ' => 'o',
        'ú' | 'ù' | 'û' | 'ü' => 'u',
        'ñ' => 'n',
        'ç' => 'c',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::words;

    #[test]
    fn case_accents_and_punctuation_do_not_count() {
        assert_eq!(words("  Última_Extracción: "), ["ultima", "extraccion"]);
        assert_eq!(words("birthDate"), ["birth", "date"]);
        assert_eq!(words("Nº"), ["n"]);
        assert_eq!(words("Nu\u{301}mero"), ["numero"]);
        assert_eq!(words("RFID"), ["rfid"]);
        assert!(words(" -/ ").is_empty());
    }
}
