using System.Reflection.Metadata;

namespace BoardSim.Cli.Tests.Architecture;

/// <summary>Finds the folder that each type was written in, from the debug information: a folder may hold a part of a namespace.</summary>
internal sealed class SourceFolders
{
    /// <summary>Documents of a type without methods (enums, interfaces), in the portable PDB format.</summary>
    private static readonly Guid TypeDocuments = new("932E74BC-DBA9-4478-8D46-0F32A7BAB3D3");

    private readonly MetadataReader debug;
    private readonly string assembly;

    public SourceFolders(MetadataReader debug, string assembly) => (this.debug, this.assembly) = (debug, assembly);

    /// <summary>Folder of a type relative to the project's own, such as <c>Analyses</c>; empty for the project's folder itself, null for
    /// what no file of the project declares (the compiler's own helpers).</summary>
    public string? FolderOf(MetadataReader reader, TypeDefinitionHandle handle)
    {
        var documents = reader.GetTypeDefinition(handle).GetMethods()
            .Select(method => debug.GetMethodDebugInformation(method).Document)
            .Concat(Declared(handle))
            .Where(document => !document.IsNil);
        return documents.Select(document => Folder(debug.GetString(debug.GetDocument(document).Name))).FirstOrDefault(folder => folder is not null);
    }

    private List<DocumentHandle> Declared(TypeDefinitionHandle handle)
    {
        var found = new List<DocumentHandle>();
        foreach (var item in debug.GetCustomDebugInformation(handle).Select(debug.GetCustomDebugInformation))
        {
            if (debug.GetGuid(item.Kind) == TypeDocuments)
            {
                var blob = debug.GetBlobReader(item.Value);
                while (blob.RemainingBytes > 0)
                {
                    found.Add(System.Reflection.Metadata.Ecma335.MetadataTokens.DocumentHandle(blob.ReadCompressedInteger()));
                }
            }
        }

        return found;
    }

    private string? Folder(string path)
    {
        path = path.Replace('\\', '/');
        var project = $"/{assembly}/";
        var start = path.LastIndexOf(project, StringComparison.Ordinal);
        if (start < 0)
        {
            return null;
        }

        var inside = path[(start + project.Length)..];
        return inside.StartsWith("obj/", StringComparison.Ordinal) ? null : inside[..Math.Max(0, inside.LastIndexOf('/'))];
    }
}
