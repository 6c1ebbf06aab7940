"""The workbench: a web application over `workflows`, for one teacher on one machine.

Nothing is computed here: a route reads a request, calls one function of `workflows`, and answers.
"""
