"""Font metrics shipped with the package: widths only, no outlines. See the modules."""
