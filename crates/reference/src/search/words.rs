//! Spelling words so that like ones are equal: small letters without accents, one for many, one word for the
//! British and the American. The spelling is a key for comparison and never shown.

/// Words of one meaning: the first is the key. Common usage of both Englishes, no source.
pub(super) const LIKE: &[(&str, &[&str])] = &[
    ("arugula", &["rocket", "rucola"]),
    ("beet", &["beetroot"]),
    ("canned", &["tinned"]),
    ("canola", &["rapeseed"]),
    ("chili", &["chilli", "chile", "chilly"]),
    ("corn", &["sweetcorn"]),
    ("cornstarch", &["cornflour"]),
    ("donut", &["doughnut"]),
    ("dry", &["dried"]),
    ("eggplant", &["aubergine", "brinjal"]),
    ("flaxseed", &["linseed"]),
    ("ground", &["mince", "minced"]),
    ("hummus", &["houmous", "humus"]),
    ("pita", &["pitta"]),
    ("rutabaga", &["swede"]),
    ("scallion", &["scallions"]),
    ("shrimp", &["prawn"]),
    ("whiskey", &["whisky"]),
    ("wholewheat", &["wholemeal"]),
    ("yogurt", &["yoghurt", "yoghourt"]),
    ("zucchini", &["courgette"]),
];

/// Words that tell nothing.
const EMPTY: &[&str] = &["a", "an", "and", "in", "of", "or", "the", "with"];

/// More words than this are not read.
const WORDS_MAX: usize = 12;

/// The words of a text as they are compared; joining words such as `of` and `and` are left out.
#[must_use]
pub fn words(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut word = String::new();
    for letter in text.chars().chain([' ']) {
        if letter.is_alphanumeric() || letter == '%' {
            push_plain(&mut word, letter);
        } else if !matches!(letter, '\'' | '’') && !word.is_empty() {
            if !EMPTY.contains(&word.as_str()) && found.len() < WORDS_MAX {
                found.push(key(&word));
            }
            word.clear();
        }
    }
    found
}

/// The letter without its accent, small.
fn push_plain(word: &mut String, letter: char) {
    for letter in letter.to_lowercase() {
        match letter {
            'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' => word.push('a'),
            'è' | 'é' | 'ê' | 'ë' => word.push('e'),
            'ì' | 'í' | 'î' | 'ï' => word.push('i'),
            'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' => word.push('o'),
            'ù' | 'ú' | 'û' | 'ü' => word.push('u'),
            'ç' => word.push('c'),
            'ñ' => word.push('n'),
            'æ' => word.push_str("ae"),
            'œ' => word.push_str("oe"),
            'ß' => word.push_str("ss"),
            other => word.push(other),
        }
    }
}

fn key(word: &str) -> String {
    let single = single(word);
    let like = LIKE.iter().find(|(_, others)| others.contains(&single.as_str()));
    like.map_or(single, |(first, _)| (*first).to_owned())
}

/// One of many. What comes out need not be a word, only the same for one and many.
fn single(word: &str) -> String {
    let is_many = word.chars().count() > 3
        && word.ends_with('s')
        && !["ss", "us", "is"].iter().any(|end| word.ends_with(end));
    let mut one = if is_many { &word[..word.len() - 1] } else { word }.to_owned();
    if one.len() <= 3 {
        return one;
    }
    for (end, instead) in [
        ("ie", "y"),
        ("oe", "o"),
        ("she", "sh"),
        ("che", "ch"),
        ("xe", "x"),
        ("sse", "ss"),
        ("leave", "leaf"),
        ("loave", "loaf"),
        ("halve", "half"),
    ] {
        if one.ends_with(end) {
            one.truncate(one.len() - end.len());
            one.push_str(instead);
            break;
        }
    }
    one
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(one: &str, other: &str) {
        assert_eq!(words(one), words(other));
        assert!(!words(one).is_empty(), "{one}");
    }

    #[test]
    fn one_and_many_are_the_same_word() {
        for (one, many) in [
            ("onion", "onions"),
            ("berry", "berries"),
            ("tomato", "tomatoes"),
            ("radish", "radishes"),
            ("leaf", "leaves"),
            ("loaf", "loaves"),
            ("cookie", "cookies"),
            ("box", "boxes"),
            ("peach", "peaches"),
            ("egg", "eggs"),
            ("bay leaf", "Bay leaves"),
        ] {
            check(one, many);
        }
    }

    #[test]
    fn british_and_american_words_are_the_same() {
        check("courgettes", "zucchini");
        check("beef mince", "beef, ground");
        check("Yoghurt", "yogurt");
        check("chillies", "chili");
    }

    #[test]
    fn accents_and_stops_are_passed_over() {
        check("jalapeño", "Jalapeno");
        check("crème fraîche", "creme-fraiche");
        check("hen's eggs", "hens eggs");
    }

    #[test]
    fn words_that_only_look_alike_stay_apart() {
        assert_ne!(words("hummus"), words("hummu"));
        assert_ne!(words("asparagus"), words("asparagu"));
        assert_ne!(words("pea"), words("peas and carrots"));
        assert_eq!(words("of the"), Vec::<String>::new());
    }
}
