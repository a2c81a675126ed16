"""A plan asked for from the command line."""

import pytest
from django.core.management import CommandError, call_command

from shop.plans.models import Job

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("seconds", [-5, 10**7])
@pytest.mark.parametrize("also", [[], ["--ask-only"]])
def test_seconds_that_no_search_can_take_are_refused_in_one_sentence(seconds, also):
    with pytest.raises(CommandError, match=f"a number from 0 to 86400, such as 20, not {seconds}"):
        call_command("replan", f"--seconds={seconds}", *also)
    assert not Job.objects.exists()
