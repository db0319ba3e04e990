"""The course as pages for any browser, without Python or network. Main door: `write_edition`."""
