"""The figures in the back office."""

from django.contrib import admin

from shop.backroom import PlannedBy
from shop.figures.models import Figures

admin.site.register(Figures, PlannedBy)
