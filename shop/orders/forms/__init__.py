"""What people fill in about orders."""

from shop.orders.forms.filtering import FilterForm
from shop.orders.forms.importing import MatchingForm, UploadForm
from shop.orders.forms.pad import OrderPad

__all__ = ["FilterForm", "MatchingForm", "OrderPad", "UploadForm"]
