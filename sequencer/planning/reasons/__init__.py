"""Why one task comes before another: rules over shapes and work, each with a kind and a sentence.

Only what is demanded is said here; what merely saves a set-up is left to the order. One module for each subject; `finding`
goes through them all.
"""
