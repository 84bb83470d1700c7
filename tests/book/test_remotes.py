"""What git says of a place becomes a reason; whose disk is full is not mixed up."""

from __future__ import annotations

import pytest

from ovenleaf.book import remotes
from ovenleaf.book.addresses import address
from ovenleaf.book.write_faults import CannotWrite


@pytest.mark.parametrize(
    ("said", "refusal", "words"),
    [
        ("remote: fatal: write error: No space left on device\nerror: remote unpack failed: index-pack abnormal exit",
         remotes.SentBack, "its disk is full"),
        ("fatal: write error: No space left on device\nfatal: fetch-pack: invalid index-pack output",
         CannotWrite, "the disk is full"),
        ("error: inflate: data stream error\nfatal: index-pack failed", remotes.Unsound, "damaged"),
        ("fatal: unable to connect to host: Connection refused", remotes.NotReached, "cannot be reached"),
        ("fatal: Authentication failed for 'https://host/book'", remotes.SignInFailed, "did not let you in"),
        ("! [remote rejected] main (pre-receive hook declined)", remotes.SentBack, "a rule of its own"),
    ],
)  # fmt: skip
def test_what_git_says_becomes_a_reason(said, refusal, words, tmp_path):
    """Each in the baker's words, and none of git's."""
    told = remotes._in_words(address("https://host/book", tmp_path), said)
    assert type(told) is refusal
    assert words in told.what
    assert "index-pack" not in told.what
