"""Every law of what the plugin gives, in one line."""

import gripwright.laws

test_laws = gripwright.laws.suite("cigar-box")
