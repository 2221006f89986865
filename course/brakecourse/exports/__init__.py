"""What leaves the class: grade tables for a coordinator or a registrar."""
