"""Reading makers' labels: GS1 element strings and links, ISO/IEC 15434 messages, plain codes of a site's pattern."""
