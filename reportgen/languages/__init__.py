"""The languages of pages, recaps and mails: gettext catalogues, and how dates and numbers are written."""
