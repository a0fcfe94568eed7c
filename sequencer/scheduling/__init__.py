"""Work on counted things within windows of time, as plain sums: numbers in, numbers out, no word of wood.

`calendar` counts minutes at work through windows; `problem` says what is asked; `checked` goes over an answer without knowing
how it was found; `greedy` places one activity after another, with `placing` on the `arrays` of a problem; `bound` says what no
answer can beat; `solver` closes what is left, where the optional library is there; `best` puts them together for a plain problem.
"""
