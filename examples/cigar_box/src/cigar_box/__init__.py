"""The three-string cigar-box guitar: a plugin for Gripwright."""
