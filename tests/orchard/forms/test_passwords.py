"""Passwords by OWASP ASVS 5.0, section 6.2: long and uncommon; of what, is free."""

import pytest
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from hypothesis import given, strategies as st

from orchard.forms.passwords import OUR_WORDS, CommonPasswordValidator

RULE = CommonPasswordValidator()


@pytest.mark.parametrize(
    "password",
    [
        "shortpass",  # nine; 6.2.1 asks for eight at least
        "1234567890",  # the most common of its length
        "Password2024!",  # a common one, padded
        "!!iloveyou!!",
        "orchardcare1",  # 6.2.11: what fits this very program
        "Orchard 2025",
    ],
)
def test_an_easily_guessed_password_is_refused(password):
    with pytest.raises(ValidationError):
        validate_password(password)


@pytest.mark.parametrize(
    "password",
    [
        "allsmallletters in a row",  # 6.2.5: no rule of what it is made of
        "84713095627384",
        "пять спелых слив",
        "🌳🍐🍑🍒🍎🍋🍊🥝🍇🫐",
        "  spaces at both ends  ",
        "x" * 64,  # 6.2.9: 64 signs and more
        "seven ripe plums, " * 30,
    ],
)
def test_a_long_uncommon_password_of_anything_is_taken(password):
    validate_password(password)


def test_more_than_the_3000_most_common_of_our_length_are_refused():
    """6.2.4; padding makes thousands of the shorter ones long enough."""
    padded = {
        word if len(word) >= 10 else word.ljust(10, "1") for word in RULE.passwords
    }
    refused = 0
    for word in sorted(padded)[:6000]:
        try:
            RULE.validate(word)
        except ValidationError:
            refused += 1
    assert refused > 3000


@given(st.sampled_from(sorted(OUR_WORDS)), st.text("0123456789!?. ", max_size=20))
def test_our_own_words_stay_refused_whatever_is_added(word, added):
    with pytest.raises(ValidationError, match="common word"):
        RULE.validate(added + word.upper() + added)
