"""Kept transcripts: used again, resumed after a crash, ignored when torn, and changed settings start afresh."""

import pytest

from cleansheet.listen import listening
from cleansheet.listen.hearing import HeardStretch
from cleansheet.listen.transcripts import KEPT, Finished, KeptWord, Transcript, key, transcripts_folder


@pytest.fixture
def cache(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def stretch(number):
    word = KeptWord(f" word{number}", float(number), number + 0.5, 0.9, ("other",))
    return Finished(number + 1.0, (word,), None)


@pytest.mark.usefixtures("cache")
def test_a_whole_transcript_comes_back_as_it_was():
    one = Transcript("a")
    for number in range(3):
        one.add(stretch(number))
    one.close({"read_s": 3.0, "gaps": []})
    again = Transcript("a")
    assert again.finished == [stretch(number) for number in range(3)]
    assert again.summary == {"read_s": 3.0, "gaps": []}


@pytest.mark.usefixtures("cache")
@pytest.mark.parametrize("cut", range(1, 60, 7))
def test_a_torn_transcript_goes_on_behind_its_last_whole_line(cut):
    one = Transcript("a")
    for number in range(3):
        one.add(stretch(number))
    data = one.path.read_bytes()
    one.path.write_bytes(data[:-cut])
    torn = Transcript("a")
    assert torn.summary is None
    kept = len(torn.finished)
    assert kept < 3
    for number in range(kept, 4):
        torn.add(stretch(number))
    assert Transcript("a").finished == [stretch(number) for number in range(4)]


@pytest.mark.usefixtures("cache")
def test_an_unwritable_cache_costs_nothing_but_the_keeping(tmp_path):
    (tmp_path / "cache").write_text("a file where the folder should be")
    one = Transcript("a")
    one.add(stretch(0))
    one.close({})
    assert one.finished == [stretch(0)]


@pytest.mark.usefixtures("cache")
def test_only_the_newest_are_kept():
    folder = transcripts_folder()
    folder.mkdir(parents=True)
    for number in range(KEPT + 5):
        (folder / f"{number}.jsonl").write_text("{}\n")
    one = Transcript("new")
    one.close({})
    assert len(list(folder.glob("*.jsonl"))) == KEPT
    assert one.path.exists()


def test_every_setting_makes_another_key():
    base = {"sound": "a", "weights": "base", "names": ("x",)}
    changed = [{**base, "sound": "b"}, {**base, "weights": "small.en"}, {**base, "names": ()}]
    assert len({key(**one) for one in [base, *changed]}) == 4
    assert key(**base) == key(**dict(reversed(base.items())))


@pytest.mark.speech
@pytest.mark.usefixtures("cache")
def test_after_a_crash_the_finished_stretches_are_not_heard_again(tmp_path, human_speech, write_wav, monkeypatch):
    import numpy as np

    pause = np.zeros(3 * 16_000, dtype=np.float32)
    path = write_wav(tmp_path / "x.wav", np.concatenate([human_speech, pause] * 3))
    heard = []

    def hear(ear, samples, told, known):
        if len(heard) == 2:
            raise KeyboardInterrupt
        heard.append(len(samples))
        return HeardStretch((KeptWord(f" take{len(heard)}", 0.1, 0.5, 0.9),))

    monkeypatch.setattr(listening, "hear", hear)
    with pytest.raises(KeyboardInterrupt):
        listening.listen(path, threads=2)
    monkeypatch.setattr(listening, "hear", lambda *args: HeardStretch((KeptWord(" last", 0.1, 0.5, 0.9),)))
    note = listening.listen(path, threads=2)
    assert note.text == "take1 take2 last"
    monkeypatch.setattr(listening, "hear", lambda *args: pytest.fail("heard again"))
    assert listening.listen(path, threads=2).text == note.text
    assert [word.start_s for word in note.words] == sorted(word.start_s for word in note.words)
