//! Reading the figure of an amount as an exact ratio: `3`, `1.5`, `1/2`, `1 1/2`, `½`, `1½`.

/// A figure that is not negative, as an exact ratio.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Ratio {
    pub(crate) num: i64,
    pub(crate) den: i64,
}

/// Why a figure cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    Absent,
    Malformed,
    Comma,
    Long,
}

/// More digits than this before the point are no kitchen figure, and keep all arithmetic within 64 bits.
const WHOLE_DIGITS_MAX: usize = 9;
/// More digits than this behind the point, or in a denominator, are no kitchen figure.
const PART_DIGITS_MAX: usize = 6;

const SIGNS: &[(char, i64, i64)] = &[
    ('½', 1, 2),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
];

/// Whether a figure may begin with this character.
pub(crate) fn begins(c: char) -> bool {
    c.is_ascii_digit() || SIGNS.iter().any(|sign| sign.0 == c)
}

/// Reads one figure and returns it with the text behind it.
pub(crate) fn read(text: &str) -> Result<(Ratio, &str), Fault> {
    let text = text.trim_start();
    let end = text
        .find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',')
        .unwrap_or(text.len());
    let (run, behind) = text.split_at(end);
    let next = behind.trim_start();
    if run.is_empty() {
        return sign(next).ok_or(Fault::Absent);
    }
    // A fraction goes on after the run only when the run is a whole number.
    let part = match sign(next) {
        None if next.starts_with(begins) => Some(fraction(next)?),
        found => found,
    };
    if let Some((part, behind)) = part {
        let whole = integer(run, WHOLE_DIGITS_MAX)?;
        return proper(part).map(|part| {
            (
                Ratio {
                    num: whole * part.den + part.num,
                    den: part.den,
                },
                behind,
            )
        });
    }
    if next.starts_with('/') {
        return fraction(text);
    }
    Ok((decimal(run)?, behind))
}

fn sign(text: &str) -> Option<(Ratio, &str)> {
    let first = text.chars().next()?;
    let &(_, num, den) = SIGNS.iter().find(|sign| sign.0 == first)?;
    Some((Ratio { num, den }, &text[first.len_utf8()..]))
}

/// `1/2`, with or without spaces about the stroke.
fn fraction(text: &str) -> Result<(Ratio, &str), Fault> {
    let (above, behind) = digits(text);
    let below = behind.trim_start().strip_prefix('/').ok_or(Fault::Malformed)?;
    let (below, behind) = digits(below.trim_start());
    let ratio = Ratio {
        num: integer(above, WHOLE_DIGITS_MAX)?,
        den: integer(below, PART_DIGITS_MAX)?,
    };
    if ratio.den == 0 || behind.starts_with(['.', ',']) {
        return Err(Fault::Malformed);
    }
    Ok((ratio, behind))
}

fn proper(part: Ratio) -> Result<Ratio, Fault> {
    if part.num < part.den {
        Ok(part)
    } else {
        Err(Fault::Malformed)
    }
}

fn digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len()))
}

fn integer(text: &str, digits_max: usize) -> Result<i64, Fault> {
    if text.contains(',') {
        return Err(Fault::Comma);
    }
    if text.len() > digits_max {
        return Err(Fault::Long);
    }
    text.parse().map_err(|_| Fault::Malformed)
}

/// `12`, `1.5`, `.5`; a point needs a digit behind it.
fn decimal(run: &str) -> Result<Ratio, Fault> {
    if run.contains(',') {
        return Err(Fault::Comma);
    }
    let Some((whole, part)) = run.split_once('.') else {
        return integer(run, WHOLE_DIGITS_MAX).map(|num| Ratio { num, den: 1 });
    };
    let whole = if whole.is_empty() {
        0
    } else {
        integer(whole, WHOLE_DIGITS_MAX)?
    };
    let places = part.len();
    let part = integer(part, PART_DIGITS_MAX)?;
    let den = (0..places).fold(1, |den, _| den * 10);
    Ok(Ratio {
        num: whole * den + part,
        den,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, num: i64, den: i64) {
        assert_eq!(read(text), Ok((Ratio { num, den }, "")), "{text}");
    }

    fn refuse(text: &str, fault: Fault) {
        assert_eq!(read(text), Err(fault), "{text}");
    }

    #[test]
    fn whole_numbers_decimals_fractions_and_signs_are_read() {
        check("3", 3, 1);
        check("1.5", 15, 10);
        check(".25", 25, 100);
        check("1/2", 1, 2);
        check("3 / 4", 3, 4);
        check("5/4", 5, 4);
        check("1 1/2", 3, 2);
        check("½", 1, 2);
        check("2¾", 11, 4);
        check("2 ⅜", 19, 8);
    }

    #[test]
    fn half_a_figure_is_refused() {
        refuse("", Fault::Absent);
        refuse("cup", Fault::Absent);
        refuse("/2", Fault::Absent);
        refuse("1.", Fault::Malformed);
        refuse(".", Fault::Malformed);
        refuse("1.2.3", Fault::Malformed);
        refuse("1/", Fault::Malformed);
        refuse("1/0", Fault::Malformed);
        refuse("1 2", Fault::Malformed);
        refuse("1 3/2", Fault::Malformed);
        refuse("1.5 1/2", Fault::Malformed);
        refuse("1.5½", Fault::Malformed);
        refuse("1/2.5", Fault::Malformed);
        refuse("1.5/2", Fault::Malformed);
        refuse("1,5", Fault::Comma);
        refuse("1,000 1/2", Fault::Comma);
        refuse("12345678901", Fault::Long);
        refuse("1.1234567", Fault::Long);
    }
}
