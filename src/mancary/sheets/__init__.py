"""Sheets: from the bytes of a keeper's file to rows that are understood, refused or asked about."""
