//! The Python face of `fastness_core`: coarse calls, and the GIL released while they run.

/// The compiled part of `fastness.core`.
#[pyo3::pymodule(gil_used = false)]
mod _native {
    use pyo3::pyfunction;

    /// The version of the compiled core, the same as that of the Python package.
    #[pyfunction]
    fn version() -> &'static str {
        env!("CARGO_PKG_VERSION")
    }
}
