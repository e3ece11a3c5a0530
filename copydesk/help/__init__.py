"""Help: one page a topic, the glossary, the change notes."""
