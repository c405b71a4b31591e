"""Printed and handed-out forms."""
