"""Every address of the site, room by room."""

from django.contrib import admin
from django.contrib.auth import views as auth
from django.urls import include, path

urlpatterns = [
    path("", include("shop.day.urls")),
    path("plan/", include("shop.plans.urls")),
    path("orders/", include("shop.orders.urls")),
    path("designs/", include("shop.designs.urls")),
    path("wood/", include("shop.wood.urls")),
    path("numbers/", include("shop.numbers.urls")),
    path("workshop/", include("shop.stations.urls")),
    path("sheets/", include("shop.sheets.urls")),
    path("sign-in/", auth.LoginView.as_view(template_name="sign_in.html"), name="sign_in"),
    path("sign-out/", auth.LogoutView.as_view(), name="sign_out"),
    path("admin/", admin.site.urls),
]
