"""The single-line diagram of a job: geometry in millimetres first, then SVG, PDF and DXF."""
