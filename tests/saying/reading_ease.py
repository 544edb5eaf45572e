"""How easy a text is to read, by the standard formula of its language: higher is easier.

The three formulas are written from memory, as are the figures for a newspaper: Flesch (1948) calls 50 to 60 "fairly
difficult" and 60 to 70 "standard", and newspapers are commonly put about 50 to 60; Amstad (1978) is Flesch's formula
fitted to German, Kandel and Moles (1958) to French, both on the same scale.
Syllables are counted as groups of vowels, which is near enough over thousands of words.
"""

import re

NEWSPAPER = 50.0
"""The lower end of what newspapers have, in each of the languages."""
_END = re.compile(r"(?<!\d)[.!?…]+(?=[”’»)]*(?:\s+\W*[^\W\d_a-zà-öø-ÿ]|\s*$))")
"""The stop after a number ends no sentence, as in the German `5. März`; a colon ends none either."""
_WORD = re.compile(r"[^\W\d_]+(?:[’'-][^\W\d_]+)*")
_GROUP = {
    "en": re.compile(r"[aeiouy]+"),
    "de": re.compile(r"ie|ei|ai|au|eu|äu|[aeiouäöüy]"),
    "fr": re.compile(r"[aeiouyàâäéèêëîïôöùûüœæ]+"),
}


def reading_ease(text: str, language: str) -> float:
    """Flesch's reading ease of an English text, Amstad's of a German, Kandel and Moles' of a French one."""
    words = _WORD.findall(text)
    sentences = len(_END.findall(text)) or 1
    a_sentence = len(words) / sentences
    a_word = sum(syllables(word, language) for word in words) / len(words)
    if language == "de":
        return 180 - a_sentence - 58.5 * a_word
    if language == "fr":
        return 207 - 1.015 * a_sentence - 73.6 * a_word
    return 206.835 - 1.015 * a_sentence - 84.6 * a_word


def syllables(word: str, language: str) -> int:
    """Of one word; a mute e at its end is none in English and French."""
    small = word.lower()
    if language == "en":
        small = re.sub(r"(?<=[^aeiouyl])e$|(?<=[aeiouy][^aeiouy])e(?=s$)|(?<=[^aeiouydt])e(?=d$)", "", small)
    if language == "fr":
        small = re.sub(r"(?<=[^aeiouyéèêà])e(?:s|nt)?$", "", small)
    return max(1, len(_GROUP[language].findall(small)))
