"""The ore-type tree as an item model: groups, under them ore types, under them recipes."""

from dataclasses import dataclass, field
from enum import IntEnum
from typing import Any, Literal

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from fluxlab.gui.ore.tree import Group, OreEntry

Index = QModelIndex | QPersistentModelIndex
Kind = Literal["group", "ore", "recipe"]


class Role(IntEnum):
    """What a view can ask of a node besides its text."""

    KIND = Qt.ItemDataRole.UserRole + 1
    UID = Qt.ItemDataRole.UserRole + 2
    NOTE = Qt.ItemDataRole.UserRole + 3


@dataclass(eq=False, slots=True)
class Node:
    """One row of the tree."""

    kind: Kind
    uid: str
    title: str
    note: str = ""
    parent: "Node | None" = None
    row: int = 0
    number: int = 0
    children: list["Node"] = field(default_factory=list)


class OreTreeModel(QAbstractItemModel):
    """Read-only tree; the column refills it when the library or the search changes."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._root = Node("group", "", "")
        self._nodes: list[Node] = [self._root]

    def fill(self, groups: tuple[Group, ...]) -> None:
        """Show these groups."""
        self.beginResetModel()
        self._root = Node("group", "", "")
        self._nodes = [self._root]
        for group in groups:
            branch = self._add(self._root, Node("group", group.name, group.name))
            for ore in group.ores:
                self._add_ore(branch, ore)
        self.endResetModel()

    def index_of(self, kind: Kind, uid: str) -> QModelIndex:
        """Index of a node, an invalid one if the tree does not show it."""
        node = next((n for n in self._nodes[1:] if n.kind == kind and n.uid == uid), None)
        return QModelIndex() if node is None else self.createIndex(node.row, 0, node.number)

    def node(self, index: Index) -> Node | None:
        """The node of an index, None for an invalid one."""
        number = index.internalId() if index.isValid() else 0
        return self._nodes[number] if 0 < number < len(self._nodes) else None

    def index(self, row: int, column: int, parent: Index = QModelIndex()) -> QModelIndex:  # noqa: B008
        """Index of a child."""
        above = self.node(parent) or self._root
        if column != 0 or not 0 <= row < len(above.children):
            return QModelIndex()
        return self.createIndex(row, 0, above.children[row].number)

    def parent(self, index: Index = QModelIndex()) -> QModelIndex:  # type: ignore[override]  # noqa: B008
        """Index of the node above."""
        node = self.node(index)
        if node is None or node.parent is None or node.parent is self._root:
            return QModelIndex()
        return self.createIndex(node.parent.row, 0, node.parent.number)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of children."""
        if parent.column() > 0:
            return 0
        return len((self.node(parent) or self._root).children)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """One column."""
        return 1

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Title, note, kind, id and spoken text of a node."""
        node = self.node(index)
        if node is None:
            return None
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return node.title
            case Qt.ItemDataRole.AccessibleTextRole | Qt.ItemDataRole.ToolTipRole:
                return f"{node.title}, {node.note}" if node.note else node.title
            case Role.KIND:
                return node.kind
            case Role.UID:
                return node.uid
            case Role.NOTE:
                return node.note
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Groups are headings: they can be unfolded, not chosen."""
        node = self.node(index)
        if node is None:
            return Qt.ItemFlag.NoItemFlags
        if node.kind == "group":
            return Qt.ItemFlag.ItemIsEnabled
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    def _add(self, above: Node, node: Node) -> Node:
        node.parent, node.row, node.number = above, len(above.children), len(self._nodes)
        above.children.append(node)
        self._nodes.append(node)
        return node

    def _add_ore(self, branch: Node, ore: OreEntry) -> None:
        node = self._add(branch, Node("ore", ore.uid, ore.name, ore.note))
        for recipe in ore.recipes:
            self._add(node, Node("recipe", recipe.uid, recipe.name, recipe.note))
