//! Things kitchens count, and words for amounts without a weight.

/// Words for one of something a kitchen counts, and for many of it. Others are written
/// with a sign: "3 × quenelle".
const COUNTED: &[(&str, &str)] = &[
    ("apple", "apples"),
    ("avocado", "avocados"),
    ("beet", "beets"),
    ("bulb", "bulbs"),
    ("bunch", "bunches"),
    ("carrot", "carrots"),
    ("chilli", "chillies"),
    ("clove", "cloves"),
    ("cover", "covers"),
    ("cucumber", "cucumbers"),
    ("egg", "eggs"),
    ("fillet", "fillets"),
    ("fish", "fish"),
    ("guest", "guests"),
    ("handful", "handfuls"),
    ("head", "heads"),
    ("jar", "jars"),
    ("juniper berry", "juniper berries"),
    ("bay leaf", "bay leaves"),
    ("leaf", "leaves"),
    ("lemon", "lemons"),
    ("lime", "limes"),
    ("loaf", "loaves"),
    ("onion", "onions"),
    ("orange", "oranges"),
    ("oyster", "oysters"),
    ("pan", "pans"),
    ("peppercorn", "peppercorns"),
    ("piece", "pieces"),
    ("plate", "plates"),
    ("portion", "portions"),
    ("potato", "potatoes"),
    ("radish", "radishes"),
    ("shallot", "shallots"),
    ("sheet", "sheets"),
    ("side", "sides"),
    ("slice", "slices"),
    ("sprig", "sprigs"),
    ("stalk", "stalks"),
    ("star", "stars"),
    ("stem", "stems"),
    ("stick", "sticks"),
    ("strip", "strips"),
    ("tail", "tails"),
    ("tomato", "tomatoes"),
    ("tray", "trays"),
    ("tub", "tubs"),
    ("whole", "whole"),
    ("yolk", "yolks"),
];

/// Sizes that may stand before a counted thing.
const SIZES: [&str; 3] = ["large", "medium", "small"];

/// Amounts without a weight: the words for one and for many.
const VAGUE_PORTIONS: [&str; 14] = [
    "pinch", "pinches", "dash", "dashes", "drop", "drops", "splash", "splashes", "drizzle", "knob",
    "little", "smidgen", "few", "touch",
];

/// Amounts without a weight that are a phrase by themselves.
const VAGUE_PHRASES: [&str; 6] = [
    "to taste",
    "as needed",
    "some",
    "to cover",
    "to finish",
    "enough to cover",
];

/// Words that may stand before a vague portion.
const BEFORE_VAGUE: [&str; 9] = [
    "a", "an", "one", "two", "three", "good", "generous", "small", "large",
];

/// The word for one of what `words` name, when kitchens count it.
pub(crate) fn counted(words: &[&str]) -> Option<String> {
    let lower: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
    let (size, name) = match lower.split_first() {
        Some((first, rest)) if !rest.is_empty() && SIZES.contains(&first.as_str()) => {
            (Some(first), rest)
        }
        _ => (None, lower.as_slice()),
    };
    let name = name.join(" ");
    let (one, _) = COUNTED
        .iter()
        .find(|(one, many)| *one == name || *many == name)?;
    Some(size.map_or_else(|| (*one).to_owned(), |size| format!("{size} {one}")))
}

/// Whether these words are an amount without a weight. A number may stand before them.
pub(crate) fn is_vague(words: &[&str]) -> bool {
    let lower: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
    if VAGUE_PHRASES.contains(&lower.join(" ").as_str()) {
        return true;
    }
    lower.split_last().is_some_and(|(last, before)| {
        VAGUE_PORTIONS.contains(&last.as_str())
            && before
                .iter()
                .all(|word| BEFORE_VAGUE.contains(&word.as_str()))
    })
}

/// Every word for a counted thing, for suggestions.
pub(crate) fn names() -> impl Iterator<Item = &'static str> {
    COUNTED.iter().flat_map(|(one, many)| [*one, *many])
}
