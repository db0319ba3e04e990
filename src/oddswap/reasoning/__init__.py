"""Groups, laws, lookalikes, diagnosis and search."""
