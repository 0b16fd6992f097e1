//! Files into kitchen types, with spans, diagnostics and suggestions.
