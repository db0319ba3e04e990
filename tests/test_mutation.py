"""What tells whether tests would notice: the lines that changed, what is spoilt in them, and that a test is heard."""

import ast
import subprocess
import sys

import pytest

from tests.mutation import HERE, NOTICED, PACKAGE, changed_lately, drawn, mutants

pytest.importorskip("cosmic_ray", reason="needs the extra `mutants`")


def test_what_should_notice_is_there():
    for file, tests in NOTICED.items():
        assert (HERE.parent / PACKAGE / file).is_file() and all((HERE.parent / test).is_file() for test in tests), file


def test_a_mutant_differs_in_its_line_alone_and_the_draw_is_the_same_again():
    file = "reasoning/verdicts/repairs.py"
    chosen, text = drawn(mutants(file), 20, "seed"), (HERE.parent / PACKAGE / file).read_text(encoding="utf-8")
    assert chosen == drawn(mutants(file), 20, "seed") != drawn(mutants(file), 20, "another")
    assert len({mutant.place for mutant in chosen}) == 20
    for mutant in chosen:
        ast.parse(mutant.text)
        lines = list(zip(text.splitlines(), mutant.text.splitlines(), strict=True))
        assert [number for number, (was, now) in enumerate(lines, 1) if was != now] == [mutant.line]


def test_what_changed_lately_is_what_the_last_commits_brought(tmp_path):
    """A renamed file has changed only where it was edited; the first commit of all has nothing before it."""

    def commit(name, text):
        (tmp_path / PACKAGE).mkdir(parents=True, exist_ok=True)
        (tmp_path / PACKAGE / name).write_text(text, encoding="utf-8")
        for args in (["init", "-q"], ["add", "-A"], ["-c", "user.name=a", "-c", "user.email=a", "commit", "-qm", name]):
            subprocess.run(["git", "-C", tmp_path, *args], check=True, capture_output=True)

    assert changed_lately(tmp_path) == {}
    lines = [f"number_{i} = {i}\n" for i in range(12)]
    commit("one.py", "".join(lines))
    assert changed_lately(tmp_path) == {}
    commit("one.py", "".join([*lines[:3], "three = 3\n", *lines[4:], "last = 1\n"]))
    assert changed_lately(tmp_path) == {"one.py": {4, 13}}
    (tmp_path / PACKAGE / "one.py").unlink()
    commit("two.py", "".join([*lines[:3], "three = 3\n", *lines[4:8], "eight = 8\n", *lines[9:], "last = 1\n"]))
    commit("new.py", "a = 1\n")
    assert changed_lately(tmp_path) == {"two.py": {4, 9, 13}, "new.py": {1}}


def test_a_test_is_heard_that_notices_and_silence_where_none_does():
    """What a permutation leaves alone is told by its own tests, and is nothing to those of text files."""
    lines = [
        "from tests.mutation import mutants, noticed, prepared",
        "one, *_ = (m for m in mutants('values/permutation.py') if m.operator.endswith('NotEq_Eq') and 'i != image' in str(m))",
        "prepared()",
        "print(noticed(one, ['tests/values/test_permutation.py']))",
        "print(noticed(one, ['tests/values/test_text_file.py'], 0.5) or 'silence')",
    ]
    heard = subprocess.run([sys.executable, "-c", "\n".join(lines)], cwd=HERE.parent, capture_output=True, text=True, check=True)
    first, second = heard.stdout.splitlines()
    assert first.startswith("FAILED tests/values/test_permutation.py") and second == "silence"
