"""The browser page's room: it will show what the kernel exported and compute no geometry."""
