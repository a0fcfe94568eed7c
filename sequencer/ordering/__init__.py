"""Orders of least changing, as plain sums: numbers in, numbers out, no word of wood.

`problem` says what is asked and checks what is answered; `bound` says what no order can beat; `exact` searches the states of
the workshop case; `exchange` improves any order by moving blocks; `layers` proves small cases with costs of any kind;
`least` puts them together.
"""
