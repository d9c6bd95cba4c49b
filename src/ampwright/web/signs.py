"""A shape and a word for each verdict and severity; colour only helps."""

from __future__ import annotations

from ampwright.assessment.result import Assessment
from ampwright.documents.report_model import FINDING_SIGN, USE_SIGN, WIRING_SIGN
from ampwright.documents.report_records import Sign
from ampwright.findings import Severity
from ampwright.records import record
from ampwright.web.answers import Live

__all__ = ["VerdictSign", "finding_sign", "kept_signs", "live_signs"]

QUICK_SIGNS: dict[Sign, str] = {"good": "waiting"}
"""What looks good at once is not good before the full answer is there."""
SENTENCE_OF_QUICK = {
    "good": "Nothing against it so far at the likely values.",
    "condition": "Conditions already at the likely values.",
    "open": "Rules are open.",
    "bad": "Fails already at the likely values.",
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


def live_signs(live: Live) -> tuple[VerdictSign, ...]:
    """Return both verdicts of what is known at this moment; none where the job cannot be built."""
    if live.answer is not None:
        answer = live.answer
        return (
            _sign("Fit for the use", USE_SIGN[answer.use_verdict], answer.use_verdict, answer.use_sentence),
            _sign(
                "Wiring and protection",
                WIRING_SIGN[answer.wiring_verdict],
                answer.wiring_verdict,
                answer.wiring_sentence,
            ),
        )
    if live.assessment is None:
        return ()
    return _quick_signs(live.assessment)


def _quick_signs(found: Assessment) -> tuple[VerdictSign, ...]:
    use, wiring = USE_SIGN[found.use_verdict], WIRING_SIGN[found.wiring_verdict]
    return (
        _sign("Fit for the use", QUICK_SIGNS.get(use, use), found.use_verdict, SENTENCE_OF_QUICK[use]),
        _sign(
            "Wiring and protection",
            QUICK_SIGNS.get(wiring, wiring),
            found.wiring_verdict,
            SENTENCE_OF_QUICK[wiring],
        ),
    )


def _sign(heading: str, sign: str, word: str, sentence: str) -> VerdictSign:
    return VerdictSign(heading=heading, sign=sign, word=word, sentence=sentence)


def kept_signs(use: str, wiring: str) -> tuple[VerdictSign, ...]:
    """Return both verdicts of a kept result."""
    use_signs: dict[str, Sign] = {str(word): sign for word, sign in USE_SIGN.items()}
    wiring_signs: dict[str, Sign] = {str(word): sign for word, sign in WIRING_SIGN.items()}
    return (
        _sign("Use", use_signs.get(use, "open"), use, ""),
        _sign("Wiring", wiring_signs.get(wiring, "open"), wiring, ""),
    )


def finding_sign(severity: Severity) -> str:
    """Return the shape of a severity."""
    return FINDING_SIGN[severity]
