"""Between plans and the stock room: what a plan may take, what its folder tells, lists in and out.

What imports `takeoff.stockroom` does so inside functions or is itself imported late: it takes a
database library.
"""
