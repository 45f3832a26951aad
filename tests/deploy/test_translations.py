"""Every text a person reads is there in every language, and leaves open the same."""

import pytest
from babel.messages.catalog import Message
from django.utils import translation
from django.utils.translation import gettext, ngettext

from deploy import translations

EVERY = pytest.mark.parametrize("language", translations.LANGUAGES)


def kept(language: str) -> list[Message]:
    return [message for message in translations.stored(language) if message.id]


@EVERY
def test_nothing_is_left_untranslated(language):
    assert translations.missing(language) == []


@EVERY
def test_nothing_is_translated_that_nobody_says(language):
    said = {(m.context, translations.originals(m)[0]) for m in translations.collected()}
    assert [
        message.id
        for message in kept(language)
        if (message.context, translations.originals(message)[0]) not in said
    ] == []


@EVERY
def test_a_translation_leaves_open_what_the_text_does(language):
    """A name that is missing loses a number; one too many breaks the page."""
    for message in kept(language):
        wanted = set().union(
            *(
                translations.placeholders(text)
                for text in translations.originals(message)
            )
        )
        singular, *others = translations.translations(message)
        # One of a thing may be said without its number.
        assert translations.placeholders(singular) <= wanted, message.id
        for text in others or [singular]:
            assert translations.placeholders(text) == wanted, message.id


@EVERY
def test_a_translation_begins_and_ends_as_the_text_does(language):
    """Where a text is put together with another, its blanks at the edges count."""
    for message in kept(language):
        for original, text in zip(
            translations.originals(message),
            translations.translations(message),
            strict=True,
        ):
            assert text[:1].isspace() == original[:1].isspace(), message.id
            assert text[-1:].isspace() == original[-1:].isspace(), message.id


def test_the_program_reads_what_is_translated():
    with translation.override("es"):
        assert gettext("tomorrow") == "mañana"
        assert ngettext("{number} day", "{number} days", 2) == "{number} días"
