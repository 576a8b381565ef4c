"""Stonework: locking up a form of metal type in a chase.

The floors, lowest first; a module imports only from floors below its own:

0. ``units``: printers' measures, read and written
1. ``shop``, ``form``: what the shop owns; a measured form
2. ``lockup``, ``stacking``: what lies on the stone; which pieces make up a thickness
3. ``choosing``, ``rules``, ``laying``: the solver; the judge; a lockup laid by hand
4. ``drawing``: the plan view, and the same facts in words
5. ``panels``: the controls in a lesson

Inside, every length is a plain float in American points (0.013837 inch).
"""
