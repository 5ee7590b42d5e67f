"""From a request to files: the codec, composing, rendering, publishing, and making a sheet again."""
