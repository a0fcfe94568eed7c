"""What is printed: drawings (SVG) and sheets (HTML, PDF). Decides nothing about woodwork."""
