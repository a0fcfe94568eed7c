"""A plan for one becomes lessons for a class: calendar, duties, solving, what would help, and the check of it all."""
