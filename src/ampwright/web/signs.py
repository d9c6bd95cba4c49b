"""A shape and a word for each verdict and severity; colour only helps."""

from __future__ import annotations

from django.utils.translation import gettext, gettext_noop

from ampwright.assessment.result import Assessment, UseVerdict, WiringVerdict
from ampwright.documents.report_model import FINDING_SIGN, USE_SIGN, WIRING_SIGN
from ampwright.documents.report_records import Sign
from ampwright.findings import Severity
from ampwright.records import record
from ampwright.said import Said
from ampwright.web.answers import Live
from ampwright.web.words.reader import reader_words

__all__ = ["VerdictSign", "finding_sign", "kept_signs", "live_signs", "quick_signs"]

QUICK_SIGNS: dict[Sign, str] = {"good": "waiting"}
"""What looks good at once is not good before the full answer is there."""
SENTENCE_OF_QUICK = {
    "good": gettext_noop("Nothing against it so far at the likely values."),
    "condition": gettext_noop("Conditions already at the likely values."),
    "open": gettext_noop("Rules are open."),
    "bad": gettext_noop("Fails already at the likely values."),
}


@record
class VerdictSign:
    """One verdict as a page shows it."""

    heading: str
    """Which verdict."""
    sign: str
    """Shape beside the word."""
    word: str
    """The verdict."""
    sentence: str
    """What goes with it."""
    is_reckoned: bool = False
    """True where the calculation said the sentence, in English."""


def live_signs(live: Live) -> tuple[VerdictSign, ...]:
    """Return both verdicts of what is known at this moment; none where the job cannot be built."""
    if live.answer is not None:
        answer = live.answer
        return (
            _use(
                USE_SIGN[answer.use_verdict],
                answer.use_verdict,
                _said(answer.use_sentence),
                is_reckoned=not isinstance(answer.use_sentence, Said),
            ),
            _wiring(
                WIRING_SIGN[answer.wiring_verdict],
                answer.wiring_verdict,
                _said(answer.wiring_sentence),
                is_reckoned=not isinstance(answer.wiring_sentence, Said),
            ),
        )
    if live.assessment is None:
        return ()
    return _quick_signs(live.assessment)


def _quick_signs(found: Assessment) -> tuple[VerdictSign, ...]:
    return quick_signs(found.use_verdict, found.wiring_verdict)


def quick_signs(use: UseVerdict, wiring: WiringVerdict) -> tuple[VerdictSign, ...]:
    """Return both verdicts of a quick answer; neither is shown as good."""
    first, second = USE_SIGN[use], WIRING_SIGN[wiring]
    return (
        _use(QUICK_SIGNS.get(first, first), use, gettext(SENTENCE_OF_QUICK[first])),
        _wiring(QUICK_SIGNS.get(second, second), wiring, gettext(SENTENCE_OF_QUICK[second])),
    )


def _said(text: str) -> str:
    return reader_words().said(text)


def _use(sign: str, word: str, sentence: str, *, is_reckoned: bool = False) -> VerdictSign:
    heading, said = gettext("Fit for the use"), gettext(word)
    return VerdictSign(heading=heading, sign=sign, word=said, sentence=sentence, is_reckoned=is_reckoned)


def _wiring(sign: str, word: str, sentence: str, *, is_reckoned: bool = False) -> VerdictSign:
    heading, said = gettext("Wiring and protection"), gettext(word)
    return VerdictSign(heading=heading, sign=sign, word=said, sentence=sentence, is_reckoned=is_reckoned)


def kept_signs(use: str, wiring: str) -> tuple[VerdictSign, ...]:
    """Return both verdicts of a kept result."""
    use_signs: dict[str, Sign] = {str(word): sign for word, sign in USE_SIGN.items()}
    wiring_signs: dict[str, Sign] = {str(word): sign for word, sign in WIRING_SIGN.items()}
    return (
        _use(use_signs.get(use, "open"), use, ""),
        _wiring(wiring_signs.get(wiring, "open"), wiring, ""),
    )


def finding_sign(severity: Severity) -> str:
    """Return the shape of a severity."""
    return FINDING_SIGN[severity]
