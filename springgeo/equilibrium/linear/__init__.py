"""Systems of equations with a band along the diagonal."""
